import { type UnitId, units } from '../quantity/units.ts'
import { explainScalingFailure, type ScalingFailure } from './scaling-failure.ts'

/** Why the values held say nothing of the sensors. */
export type ImpliedFailure =
  | { kind: 'model-not-computed'; model: string }
  | { kind: 'not-read'; register: string }
  | { kind: 'no-span-held' }
  | { kind: 'signal-in-millivolts' }
  | { kind: 'unit-not-known'; held: string }
  | { kind: 'unit-of-another-kind'; unit: UnitId; pointUnit: UnitId }
  | { kind: 'certificates'; because: ScalingFailure }

export function explainImpliedFailure(f: ImpliedFailure): string {
  switch (f.kind) {
    case 'model-not-computed':
      return `An indicator with the scaling model "${f.model}" holds nothing that can be read and that says its sensitivity.`
    case 'not-read':
      return `${f.register} has not been read or means nothing. Read the settings again.`
    case 'no-span-held':
      return 'Both pairs held have the same signal or the same reading: the indicator is not scaled.'
    case 'signal-in-millivolts':
      return 'The signals held are in mV: the sensitivity they imply hangs on the excitation. Measure it.'
    case 'unit-not-known':
      return `The unit held ("${f.held}") is not known here.`
    case 'unit-of-another-kind':
      return `The indicator shows ${units[f.unit].symbol}, the measuring point is in ${units[f.pointUnit].symbol}. State the gravity here at the load path, or correct the unit.`
    case 'certificates':
      return explainScalingFailure(f.because)
  }
}
