import type { ImportError, PointTemplate } from '../contract/import-calls.ts'
import { isScaling } from '../profile/scaling-registers.ts'
import type { ImportContext, Imported } from './import-points.ts'
import { intendedAfter } from './intended.ts'
import { pointClash } from './point-rules.ts'
import type { Point } from './schema.ts'
import { ofTheModel } from './sensors.ts'

/**
 * Many points like one. What is common to a model of sensor is taken over (capacity, overload, excitation, resistances); what a certificate states
 * of one sensor is not (number, date, serial, rated output, zero balance, table), nor what was measured at the template itself or computed
 * for its scaling.
 */
export function pointsFromTemplate(wanted: PointTemplate, context: ImportContext): Imported {
  const failed = (why: string, row = 1): Imported => ({ points: [], errors: [{ row, column: 'tag', why }], columns: [] })
  const template = context.points.find((p) => p.id === wanted.pointId)
  if (!template) return failed(`There is no measuring point ${wanted.pointId} in this job.`)
  const [hashes, ...more] = wanted.tagPattern.match(/#+/g) ?? []
  if (hashes === undefined || more.length > 0)
    return failed(`"${wanted.tagPattern}" needs one run of # where the running number stands, e.g. WT-1##.`)
  const last = wanted.firstNumber + wanted.count - 1
  if (String(last).length > hashes.length)
    return failed(`${hashes} holds ${hashes.length} digit(s), the last number is ${last}: write more #.`)
  const profileOf = (id: string | undefined) => context.profiles.get(context.indicators.find((i) => i.id === id)?.profileId ?? '')
  const points: Point[] = []
  const errors: ImportError[] = []
  for (let n = 0; n < wanted.count; n++) {
    const tag = wanted.tagPattern.replace(hashes, String(wanted.firstNumber + n).padStart(hashes.length, '0'))
    const place = wanted.onIndicator && { indicatorId: wanted.onIndicator.indicatorId, channel: wanted.onIndicator.firstChannel + n }
    const point = copyOf(template, context.newId(), tag, place, profileOf)
    const clash = pointClash(point, [...context.points, ...points], [...context.indicators], context.profiles)
    if (clash) errors.push({ row: n + 1, column: clash.where, why: `${tag}: ${clash.why}` })
    else points.push(point)
  }
  return { points, errors, columns: [] }
}

type Place = { indicatorId: string; channel: number }

function copyOf(template: Point, id: string, tag: string, place: Place | undefined, profileOf: Parameters<typeof intendedAfter>[2]): Point {
  const { indicatorId: _where, measured: _measured, ...common } = template
  const copy = {
    ...common,
    id,
    tag,
    ...place,
    measured: {},
    sensors: { ...template.sensors, certificates: template.sensors.certificates.map(ofTheModel) },
    intended: withoutScaling(template.intended),
  }
  return place ? { ...copy, intended: intendedAfter(template, copy, profileOf) } : copy
}

/** Scaling values belong to the template's own sensors and stay behind. */
const withoutScaling = (intended: Point['intended']): Point['intended'] =>
  Object.fromEntries(Object.entries(intended).filter(([key]) => !isScaling(key)))
