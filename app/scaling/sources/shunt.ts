import type { Point } from '../../job/schema.ts'
import { type Exact, toSignificant, zero } from '../../quantity/exact.ts'
import { fail, ok, type Result } from '../../result.ts'
import { type LineScaling, lineFromCertificates } from '../certificate-scaling.ts'
import type { ScalingFailure } from '../scaling-failure.ts'
import { excitationOf, measuredSignal } from './measured-loads.ts'

/**
 * Certificate line, its slope carried over by the ratio of the shunt's measured to its stated change of signal: what leads and input take is then in it.
 * Limits: the shunt at the sensor, with its own stated value; it moves one arm and says nothing of how load reaches the sensor.
 */
export function lineFromShunt(point: Point, excitation: Exact | undefined): Result<LineScaling, ScalingFailure> {
  const { shunt } = point.measured
  if (!shunt) return fail({ kind: 'source-incomplete', need: 'it needs the stated and the measured change of signal of the shunt' })
  const plain = lineFromCertificates(point)
  if (!plain.ok) return plain
  const volts = excitationOf(shunt.excitation, excitation)
  const stated = measuredSignal(shunt.stated, volts, 'stated shunt signal')
  if (!stated.ok) return stated
  const measured = measuredSignal(shunt.measured, volts, 'measured shunt signal')
  if (!measured.ok) return measured
  if (stated.value.equals(zero) || measured.value.div(stated.value).lte(zero))
    return fail({ kind: 'source-incomplete', need: 'both changes of signal have to be other than nought and of one sign' })
  const ratio = measured.value.div(stated.value)
  const { line, warnings } = plain.value
  // the shunt has been through the leads: their computed part would count twice
  const carried = ratio.div(line.leadsLeave)
  return ok({
    line: {
      ...line,
      slope: line.slope.mul(carried),
      leadsLeave: ratio,
      zeroSignal: line.zeroSignal.mul(carried),
    },
    warnings: [
      ...warnings.filter((w) => w.kind !== 'leads-not-counted'),
      {
        kind: 'shunt-shows-change-only',
        why: `The shunt gives ${toSignificant(ratio, 6)} of what is stated. It proves leads and input, not the load path: check with a known load.`,
      },
    ],
  })
}
