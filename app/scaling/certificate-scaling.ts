import { appliedKind, appliedWords } from '../applied-words.ts'
import { explainPointWiring, leadsLeave } from '../bridge/point-wiring.ts'
import { parallelSignal } from '../bridge/signal.ts'
import type { Certificate, Point } from '../job/schema.ts'
import { pointShare } from '../loadpath/point-share.ts'
import { convert } from '../quantity/convert.ts'
import { type Exact, exact, one, sum, toSignificant, zero } from '../quantity/exact.ts'
import { type UnitId, units } from '../quantity/units.ts'
import { fail, ok, type Result } from '../result.ts'
import { type AlwaysOn, alwaysOn } from './always-on.ts'
import { loadHere } from './gravity-ratio.ts'
import type { ScalingFailure, ScalingWarning } from './scaling-failure.ts'
import { beyondCapacity } from './sensor-load.ts'

/** The exact line of a measuring point: signal = zeroSignal + slope x load. Signals in mV/V, loads in `unit`. */
export type ExactLine = {
  unit: UnitId
  /** Expected signal of the unloaded point: zero balance and dead load. */
  zeroSignal: Exact
  /** mV/V in one unit of load, at the input of the indicator. */
  slope: Exact
  /** Part of the sensors' signal that the leads leave at the input; 1 where nothing is lost or nothing is known of a loss. */
  leadsLeave: Exact
  /** Rated output of the sensors together, at the sensors. */
  ratedOutput: Exact
  /** Load on the point that gives the rated output; dead load not counted. */
  capacityLoad: Exact
  deadLoad: Exact
  maximumLoad: Exact
  scaleInterval: Exact
}

/** Signal in mV/V at a load in the unit of the point. */
export type CurvePoint = { load: Exact; signal: Exact }

/** A line by whatever source it comes from. */
export type LineScaling = {
  line: ExactLine
  /** Where the source knows more than a line. */
  curve?: CurvePoint[]
  /** By how much each measured signal lies above the line, mV/V, in the order measured. */
  residuals?: Exact[]
  warnings: ScalingWarning[]
}
export type CertificateScaling = LineScaling

/** Largest rated output believed, mV/V. Metal-foil sensors give 1 to 3, a few 4 (common practice, no source). */
const largestRatedOutput = exact('10')

export const labelOf = (certificate: Certificate, index: number) =>
  certificate.serial ? `sensor ${certificate.serial}` : certificate.number ? `certificate ${certificate.number}` : `sensor ${index + 1}`

function ratedOutputOf(certificate: Certificate, label: string): Result<Exact, ScalingFailure> {
  const stated = certificate.ratedOutput
  if (!stated) return fail({ kind: 'rated-output-missing', certificate: label })
  const output = inBridgeSignal(exact(stated.value), stated.unit, certificate, label, 'rated output')
  if (!output.ok) return output
  if (output.value.lte(zero))
    return fail({
      kind: 'not-above-nought',
      what: 'rated output',
      value: `${stated.value} ${units[stated.unit].symbol}`,
      certificate: label,
    })
  if (output.value.gt(largestRatedOutput))
    return fail({ kind: 'rated-output-absurd', certificate: label, value: toSignificant(output.value, 5) })
  return output
}

/** Output in mV/V: as stated, or mV over the excitation of the certificate. */
export function inBridgeSignal(
  value: Exact,
  unit: UnitId,
  certificate: Certificate,
  label: string,
  what: string,
): Result<Exact, ScalingFailure> {
  const direct = convert(value, unit, 'mV/V')
  if (direct.ok) return ok(direct.value)
  const millivolts = convert(value, unit, 'mV')
  if (!millivolts.ok) return fail({ kind: 'wrong-unit', what, unit, right: 'mV/V', certificate: label })
  if (!certificate.certifiedAt) return fail({ kind: 'excitation-of-certificate-missing', certificate: label })
  const volts = convert(exact(certificate.certifiedAt.value), certificate.certifiedAt.unit, 'V')
  if (!volts.ok) return fail({ kind: 'wrong-unit', what: 'excitation', unit: certificate.certifiedAt.unit, right: 'V', certificate: label })
  return volts.value.lte(zero)
    ? fail({ kind: 'not-above-nought', what: 'excitation', value: certificate.certifiedAt.value, certificate: label })
    : ok(millivolts.value.div(volts.value))
}

/** Zero balance in mV/V; certificates state it in mV/V, mV or percent of rated output. Undefined where not stated. */
function zeroBalanceOf(certificate: Certificate, ratedOutput: Exact, label: string): Result<Exact | undefined, ScalingFailure> {
  const stated = certificate.zeroBalance
  if (!stated) return ok(undefined)
  const share = convert(exact(stated.value), stated.unit, '%')
  return share.ok
    ? ok(share.value.mul(ratedOutput).div(exact('100')))
    : inBridgeSignal(exact(stated.value), stated.unit, certificate, label, 'zero balance')
}

type Sensor = { label: string; ratedOutput: Exact; zeroBalance: Exact | undefined; capacity: Exact; assumed: boolean }

function sensorOf(certificate: Certificate, index: number, point: Point): Result<Sensor, ScalingFailure> {
  const label = labelOf(certificate, index)
  if (!certificate.capacity) return fail({ kind: 'capacity-missing', certificate: label })
  const ratedOutput = ratedOutputOf(certificate, label)
  if (!ratedOutput.ok) return ratedOutput
  if (exact(certificate.capacity.value).lte(zero))
    return fail({
      kind: 'not-above-nought',
      what: 'capacity',
      value: `${certificate.capacity.value} ${units[certificate.capacity.unit].symbol}`,
      certificate: label,
    })
  const zeroBalance = zeroBalanceOf(certificate, ratedOutput.value, label)
  if (!zeroBalance.ok) return zeroBalance
  const capacity = loadHere(certificate.capacity, certificate, label, point)
  if (!capacity.ok) return capacity
  return ok({
    label,
    ratedOutput: ratedOutput.value,
    zeroBalance: zeroBalance.value,
    capacity: capacity.value.load,
    assumed: capacity.value.assumed,
  })
}

/**
 * Exact line of a point from its sensors' certificates.
 * Units: mV/V and the point's unit. Several sensors: mean of rated outputs at the sum of capacities; dead load is carried in the same share as the load.
 * What stated leads take off is in the line: it is that of the indicator's input.
 * Limits: equal output resistances, no trim, load shared in proportion to the capacities; straight sensors; gravity, no buoyancy.
 * Source: circuit theory for the mean (worked case PC-1 in the tests); OIML R 76-1:2006 Annex F for share and dead load.
 */
export function lineFromCertificates(point: Point): Result<CertificateScaling, ScalingFailure> {
  const [maximumLoad, scaleInterval, share] = [exact(point.maximumLoad), exact(point.scaleInterval), pointShare(point.loadPath)]
  for (const [what, value] of [
    ['maximum load', maximumLoad],
    ['scale interval', scaleInterval],
    ['share carried', share],
  ] as const)
    if (value.lte(zero)) return fail({ kind: 'not-above-nought', what, value: toSignificant(value, 6) })
  const { certificates } = point.sensors
  if (certificates.length === 0) return fail({ kind: 'no-certificate' })
  const sensors: Sensor[] = []
  for (const [i, certificate] of certificates.entries()) {
    const sensor = sensorOf(certificate, i, point)
    if (!sensor.ok) return sensor
    sensors.push(sensor.value)
  }
  const always = alwaysOn(point)
  if (!always.ok) return always
  const leads = leadsOf(point)

  const ratedOutput = parallelSignal(sensors.map((s) => s.ratedOutput))
  const capacityLoad = sum(sensors.map((s) => s.capacity)).div(share)
  const slope = ratedOutput.div(capacityLoad).mul(leads.leave)
  const balance = parallelSignal(sensors.map((s) => s.zeroBalance ?? zero)).mul(leads.leave)
  const line = {
    unit: point.unit,
    zeroSignal: balance.add(slope.mul(always.value.load)),
    slope,
    leadsLeave: leads.leave,
    ratedOutput,
    capacityLoad,
    deadLoad: always.value.load,
    maximumLoad,
    scaleInterval,
  }
  return ok({ line, warnings: [...warningsOf(point, sensors, line, always.value), ...leads.warnings] })
}

/** Leads take their part off the span where they are stated; where that cannot be computed it is said and not counted. */
function leadsOf(point: Point): { leave: Exact; warnings: ScalingWarning[] } {
  const left = leadsLeave(point.wiring, point.sensors.certificates)
  if (!left.ok)
    return {
      leave: one,
      warnings: [{ kind: 'leads-not-counted', why: `What the leads take off is not counted. ${explainPointWiring(left.failure)}` }],
    }
  const unknown: ScalingWarning = {
    kind: 'leads-not-counted',
    why: 'Four wires and no cable stated: what it takes off the span is not counted. State the cable at the wiring.',
  }
  return { leave: exact(left.value.span.toFixed(12)), warnings: left.value.known === 'cable-not-stated' ? [unknown] : [] }
}

function warningsOf(point: Point, sensors: Sensor[], line: ExactLine, always: AlwaysOn): ScalingWarning[] {
  const words = appliedWords(point)
  const takeZero =
    appliedKind(point) === 'absolute' ? 'Check it against a barometer.' : `Take the measured zero once the point is ${words.steps[0]}.`
  const list: ScalingWarning[] = []
  const warn = (kind: ScalingWarning['kind'], why: string) => list.push({ kind, why })
  if (point.sensors.trimmed)
    warn(
      'first-guess-trimmed',
      `The junction box is trimmed: its resistors change the sum, so values from certificates are a first guess. Check with a ${words.known} and adjust.`,
    )
  const beyond = beyondCapacity(point, line)
  if (beyond) warn('beyond-capacity', beyond.why)
  if (sensors.some((s) => !s.capacity.equals(sensors[0]?.capacity ?? one)))
    warn(
      'capacities-differ',
      'The sensors have different capacities: mean output at the sum of capacities holds only where each carries its share in proportion.',
    )
  const resistances = point.sensors.certificates.flatMap((c) =>
    c.outputResistance ? [exact(c.outputResistance.value).toFraction() + c.outputResistance.unit] : [],
  )
  if (new Set(resistances).size > 1)
    warn(
      'output-resistances-differ',
      'The sensors have different output resistances: the junction box does not weigh them equally. Check each corner with a known load.',
    )
  const silent = sensors.filter((s) => s.zeroBalance === undefined).map((s) => s.label)
  if (silent.length > 0)
    warn(
      'zero-balance-not-stated',
      `Zero balance is not stated (${silent.join(', ')}); the expected zero signal counts it as nought. ${takeZero}`,
    )
  if (always.from === 'not-stated' && units[point.unit].dimension !== 'pressure')
    warn('dead-load-not-stated', `Dead load is not stated; the expected zero signal counts it as nought. ${takeZero}`)
  if (always.gravityAssumed)
    warn(
      'gravity-not-stated',
      'Gravity here is not stated; the head of fluid is computed with standard gravity, at most 0.3 % off on Earth.',
    )
  if (sensors.some((s) => s.assumed))
    warn(
      'gravity-not-stated',
      'Of gravity here and gravity behind the certificate only one is stated; they are taken as equal. Between places on Earth they differ by up to 0.5 %.',
    )
  return list
}
