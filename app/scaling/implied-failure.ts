import { kindWords, sameKind } from '../quantity/convert.ts'
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
      return `The indicator shows ${units[f.unit].symbol}, the measuring point is in ${units[f.pointUnit].symbol}. ${rightUnit(f.unit, f.pointUnit)}`
    case 'certificates':
      return explainScalingFailure(f.because)
  }
}

/** What would be right where an indicator shows a unit that does not lead to that of the point. */
export const rightUnit = (unit: UnitId, pointUnit: UnitId): string =>
  sameKind(unit, pointUnit)
    ? 'State the gravity here at the load path, or correct the unit.'
    : `The indicator has to show a unit of ${kindWords(pointUnit)}.`
