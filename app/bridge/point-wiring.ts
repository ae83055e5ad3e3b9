import type { CableRun, SeriesPart, Wired } from '../job/wiring.ts'
import { explainConvertFailure, quantityIn } from '../quantity/convert.ts'
import { celsius, metres, type Ohms, ohms } from '../quantity/double.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import type { UnitId } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'
import { type ConductorFailure, explainConductorFailure, leadResistance } from './conductor.ts'
import { explainWiringFailure, type Lead, leadLoss, type Wiring, type WiringFailure } from './lead-loss.ts'

/** What a certificate has to state for the wiring to be computed. */
export type WiredCertificate = { serial: string; inputResistance?: QuantityText | undefined; outputResistance?: QuantityText | undefined }

export type PointWiringFailure =
  | { kind: 'wires-not-stated' }
  | { kind: 'sense-not-stated' }
  | { kind: 'resistance-not-stated'; sensors: string[] }
  | { kind: 'length-not-stated' }
  | { kind: 'ohms-not-stated'; part: string }
  | { kind: 'conductor'; because: ConductorFailure }
  | { kind: 'not-understood'; what: string; why: string }
  | { kind: 'wiring'; because: WiringFailure }

/** One or two sentences: what is missing or cannot be, and what to do. */
export function explainPointWiring(f: PointWiringFailure): string {
  switch (f.kind) {
    case 'wires-not-stated':
      return 'Four or six wires is not stated. Choose what the cable has.'
    case 'sense-not-stated':
      return 'With six wires it decides where the sense leads join the excitation. Say where.'
    case 'resistance-not-stated':
      return `Input and output resistance are not stated (${f.sensors.join(', ')}). Enter them from the certificate or data sheet.`
    case 'length-not-stated':
      return 'A cable is chosen and its length is not stated. Type how long it is, one way.'
    case 'ohms-not-stated':
      return `The ohms of ${f.part} are not stated. Type those of one lead.`
    case 'conductor':
      return explainConductorFailure(f.because)
    case 'not-understood':
      return `The ${f.what} cannot be used: ${f.why}`
    case 'wiring':
      return explainWiringFailure(f.because)
  }
}

export const hasJunctionBox = (wired: Wired, sensors: number): boolean => wired.junctionBox ?? sensors > 1

function inUnit(quantity: QuantityText, unit: UnitId, what: string): Result<number, PointWiringFailure> {
  const value = quantityIn(quantity, unit)
  return value.ok ? ok(value.value.valueOf()) : fail({ kind: 'not-understood', what, why: explainConvertFailure(value.failure) })
}

/** Ohms of one lead of a run of cable at the temperature of its copper; 20 °C where that is not stated. */
export function runOhms(run: CableRun, temperature: QuantityText | undefined): Result<Ohms, PointWiringFailure> {
  if (!run.length) return fail({ kind: 'length-not-stated' })
  const length = inUnit(run.length, 'm', 'length of the cable')
  if (!length.ok) return length
  const warm = temperature ? inUnit(temperature, 'degC', 'temperature of the cable') : ok(20)
  if (!warm.ok) return warm
  const lead = leadResistance(run.conductor, metres(length.value), celsius(warm.value))
  return lead.ok ? lead : fail({ kind: 'conductor', because: lead.failure })
}

function seriesOhms(parts: readonly SeriesPart[], between: SeriesPart['between'] | 'anywhere'): Result<number, PointWiringFailure> {
  let total = 0
  for (const part of parts.filter((p) => between === 'anywhere' || p.between === between)) {
    const name = part.what || 'a series part'
    if (!part.ohms) return fail({ kind: 'ohms-not-stated', part: name })
    const value = inUnit(part.ohms, 'ohm', `resistance of ${name}`)
    if (!value.ok) return value
    total += value.value
  }
  return ok(total)
}

/** Change of one lead of a sensor's own cable against the one inside its certificate; below nought where it was cut. */
export function ownCableChange(wired: Wired): Result<Ohms, PointWiringFailure> {
  if (!wired.ownCable) return ok(ohms(0))
  const { conductor, calibrated, now } = wired.ownCable
  const then = runOhms({ conductor, length: calibrated }, wired.temperature)
  const today = runOhms({ conductor, length: now }, wired.temperature)
  if (!then.ok) return then
  return today.ok ? ok(ohms(today.value - then.value)) : today
}

/** Leads of a point: from indicator to box (absent without one), and from there to each sensor. */
export function pointLeads(wired: Wired, sensors: number): Result<{ homeRun?: Lead; sensor: Lead }, PointWiringFailure> {
  const box = hasJunctionBox(wired, sensors)
  const cable = wired.cable ? runOhms(wired.cable, wired.temperature) : ok(ohms(0))
  if (!cable.ok) return cable
  const extension = wired.sensorExtension && box ? runOhms(wired.sensorExtension, wired.temperature) : ok(ohms(0))
  if (!extension.ok) return extension
  const own = ownCableChange(wired)
  if (!own.ok) return own
  const parts = wired.series ?? []
  const [near, far] = [seriesOhms(parts, box ? 'indicator-and-box' : 'anywhere'), seriesOhms(parts, 'box-and-sensor')]
  if (!near.ok) return near
  if (!far.ok) return far
  if (!box) return ok({ sensor: { extension: cable.value, other: ohms(near.value), ownCableChange: own.value } })
  return ok({
    homeRun: { extension: cable.value, other: ohms(near.value) },
    sensor: { extension: extension.value, other: ohms(far.value), ownCableChange: own.value },
  })
}

const senses = { indicator: 'indicator', 'junction-box': 'junction-box', sensor: 'cell' } as const

/** The wiring of a point as the bridge formulas take it. Every sensor is wired alike. */
export function pointWiring(wired: Wired, certificates: readonly WiredCertificate[]): Result<Wiring, PointWiringFailure> {
  if (wired.wires === undefined) return fail({ kind: 'wires-not-stated' })
  if (wired.wires === 6 && wired.senseAt === undefined) return fail({ kind: 'sense-not-stated' })
  const leads = pointLeads(wired, certificates.length)
  if (!leads.ok) return leads
  const silent = certificates.flatMap((c, i) => (c.inputResistance && c.outputResistance ? [] : [c.serial || `sensor ${i + 1}`]))
  if (silent.length > 0) return fail({ kind: 'resistance-not-stated', sensors: silent })
  const sensors: Wiring['sensors'][number][] = []
  for (const c of certificates) {
    if (!c.inputResistance || !c.outputResistance) continue
    const [input, output] = [inUnit(c.inputResistance, 'ohm', 'input resistance'), inUnit(c.outputResistance, 'ohm', 'output resistance')]
    if (!input.ok) return input
    if (!output.ok) return output
    if (!(input.value > 0 && output.value > 0))
      return fail({ kind: 'not-understood', what: 'resistance of a sensor', why: 'it has to be above nought.' })
    sensors.push({ inputResistance: ohms(input.value), outputResistance: ohms(output.value), lead: leads.value.sensor })
  }
  return ok({
    sensors,
    ...(leads.value.homeRun ? { homeRun: leads.value.homeRun } : {}),
    sense: wired.wires === 4 ? 'indicator' : senses[wired.senseAt ?? 'indicator'],
  })
}

/** Nothing that could take a part of the span is stated. */
const nothingStated = (w: Wired) => !w.cable && !w.sensorExtension && !w.ownCable && !w.series?.length

export type LeadsLeave = {
  /** Indicated over true span, 1 where nothing is lost; the sensors' own cables are inside their certificates. */
  span: number
  /** cable-not-stated: four wires, and what they take is not known, so it is not counted. */
  known: 'computed' | 'nothing-stated' | 'cable-not-stated'
}

/** What the leads leave of a point's span. Limits as `leadLoss`; the input of the indicator draws nothing. */
export function leadsLeave(wired: Wired, certificates: readonly WiredCertificate[]): Result<LeadsLeave, PointWiringFailure> {
  if (nothingStated(wired)) return ok({ span: 1, known: wired.wires === 4 ? 'cable-not-stated' : 'nothing-stated' })
  // All that lies before the sense point is made good there, whatever the sensors' resistances.
  const sensed = wired.wires === 6 && certificates.length === 1 && wired.senseAt === 'sensor'
  if (sensed) return ok({ span: 1, known: 'computed' })
  const wiring = pointWiring(wired, certificates)
  if (!wiring.ok) return wiring
  const loss = leadLoss(wiring.value)
  return loss.ok ? ok({ span: loss.value.span, known: 'computed' }) : fail({ kind: 'wiring', because: loss.failure })
}
