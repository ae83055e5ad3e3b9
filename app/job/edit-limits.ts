import { z } from 'zod'
import { quantityIn } from '../quantity/convert.ts'
import { exact, zero } from '../quantity/exact.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import type { Certificate, Point } from './schema.ts'
import { mostSensors } from './sensors.ts'

/** A value of a point that cannot be, and what would be right. */
export type Impossible = { where: 'wiring' | 'sensors' | 'measured' | 'loadPath'; why: string }

/** A value as held, so that one that was there before can be told from a new one. */
type Found = Impossible & { value: string }

/** Copper that a cable can have in use, °C. Common practice, no source. */
const coldest = '-60'
const warmest = '200'

const mostLatitude = exact('90')

/** Why a latitude cannot be; null where it can. */
export const whyNoLatitude = (degrees: string): string | null =>
  exact(degrees).abs().gt(mostLatitude) ? 'A latitude is from \u221290 to 90 degrees, south of the equator negative.' : null

/** Why a safe overload cannot be; null where it can. */
export const whyNoSafeOverload = (percent: string): string | null =>
  exact(percent).lte(exact('100')) ? 'The safe overload is in percent of the capacity and must be above 100 %, e.g. 150 %.' : null

/** Why a point cannot have so many sensors; null where it can. */
export const whyNoSensorCount = (count: string): string | null =>
  /^\d+$/.test(count) && Number(count) <= mostSensors ? null : `A point has 0 to ${mostSensors} sensors: type a whole number.`

/**
 * What an edit would put into a point though it cannot be; null where nothing is. What `held` has already passes: a job
 * that was made before a limit, or by hand, stays one that can be edited.
 */
export function newlyImpossible(next: Point, held?: Point): Impossible | null {
  const before = held ? impossibleIn(held) : []
  const found = impossibleIn(next).find((f) => !before.some((b) => b.why === f.why && b.value === f.value))
  return found ? { where: found.where, why: found.why } : null
}

function impossibleIn(point: Point): Found[] {
  const { wiring, sensors, measured, loadPath } = point
  const { gravityFrom } = loadPath
  return [
    ...wiringOf(wiring),
    ...sensors.certificates.flatMap(certificateOf),
    ...said('sensors', String(sensors.certificates.length), whyNoSensorCount(String(sensors.certificates.length))),
    ...[measured.excitation, ...(measured.loads ?? []).map((l) => l.excitation)].flatMap((q) =>
      aboveNought('measured', q, 'An excitation must be above 0 V, e.g. 5 V.'),
    ),
    ...(gravityFrom ? said('loadPath', gravityFrom.latitude, whyNoLatitude(gravityFrom.latitude)) : []),
  ]
}

function wiringOf({ cable, sensorExtension, ownCable, temperature, series = [], measuredOhms = {} }: Point['wiring']): Found[] {
  const lengths = [cable?.length, sensorExtension?.length, ownCable?.calibrated, ownCable?.now]
  const warmth = temperature && quantityIn(temperature, 'degC')
  const beyond = warmth?.ok && (warmth.value.lt(exact(coldest)) || warmth.value.gt(exact(warmest)))
  return [
    ...lengths.flatMap((q) =>
      q && exact(q.value).lt(zero) ? said('wiring', text(q), 'A length of cable cannot be below 0 m. Type how long it is, one way.') : [],
    ),
    ...(temperature && beyond
      ? said(
          'wiring',
          text(temperature),
          'The copper of a cable in use is between \u221260 and 200 \u00b0C. Type its temperature, e.g. 35 \u00b0C.',
        )
      : []),
    ...series.flatMap((part) =>
      aboveNought('wiring', part.ohms, 'The resistance of a series part must be above 0 \u03a9. Remove the part where it has none.'),
    ),
    ...Object.values(measuredOhms).flatMap((ohms) =>
      exact(ohms).lt(zero) ? said('wiring', ohms, 'A resistance cannot be below 0 \u03a9. Type what the meter shows.') : [],
    ),
  ]
}

function certificateOf(c: Certificate): Found[] {
  const within = 'What a resistance is within must be above 0 \u03a9, e.g. 3.5 \u03a9. Empty it where no tolerance is stated.'
  const overload = c.safeOverloadPercent
  return [
    ...aboveNought('sensors', c.inputResistance, 'The input resistance must be above 0 \u03a9, e.g. 380 \u03a9.'),
    ...aboveNought('sensors', c.outputResistance, 'The output resistance must be above 0 \u03a9, e.g. 350 \u03a9.'),
    ...[c.inputResistanceTolerance, c.outputResistanceTolerance].flatMap((q) => aboveNought('sensors', q, within)),
    ...[c.excitationRecommended, c.excitationMaximum, c.certifiedAt].flatMap((q) =>
      aboveNought('sensors', q, 'An excitation must be above 0 V, e.g. 5 V.'),
    ),
    ...(overload === undefined ? [] : said('sensors', overload, whyNoSafeOverload(overload))),
    ...(c.date === '' || z.iso.date().safeParse(c.date).success
      ? []
      : said('sensors', c.date, 'This is no date of the calendar. Type year, month and day, like 2026-03-14.')),
  ]
}

const text = (q: QuantityText) => `${q.value} ${q.unit}`
const said = (where: Found['where'], value: string, why: string | null): Found[] => (why === null ? [] : [{ where, value, why }])
const aboveNought = (where: Found['where'], q: QuantityText | undefined, why: string): Found[] =>
  q && exact(q.value).lte(zero) ? said(where, text(q), why) : []
