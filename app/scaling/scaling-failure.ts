import { settingWords } from '../profile/setting-words.ts'
import { kindWords } from '../quantity/convert.ts'
import type { UnitId } from '../quantity/units.ts'
import { units } from '../quantity/units.ts'

/** Why no scaling can be computed. Nothing is assumed in place of what is missing. */
export type ScalingFailure =
  | { kind: 'no-certificate' }
  | {
      kind: 'not-above-nought'
      what: 'maximum load' | 'scale interval' | 'share carried' | 'capacity' | 'rated output' | 'excitation'
      value: string
      certificate?: string
    }
  | { kind: 'capacity-missing'; certificate: string }
  | { kind: 'rated-output-missing'; certificate: string }
  | { kind: 'rated-output-absurd'; certificate: string; value: string }
  /** Output in mV without the excitation at which it was certified. */
  | { kind: 'excitation-of-certificate-missing'; certificate: string }
  | { kind: 'wrong-unit'; what: string; unit: UnitId; right: string; certificate?: string }
  | { kind: 'unit-of-another-kind'; what: string; unit: UnitId; pointUnit: UnitId }
  | { kind: 'gravity-needed'; whose: 'here' | 'certificate'; unit: UnitId; pointUnit: UnitId; certificate?: string }
  | { kind: 'gravity-absurd'; whose: 'here' | 'certificate'; value: string }
  | { kind: 'model-not-computed'; model: string }
  | { kind: 'register-missing'; register: string }
  | { kind: 'decimals-unknown'; register: string }
  | { kind: 'unit-not-offered'; unit: UnitId; offered: string[] /** Those of the point's kind. */; fitting: string[] }
  | { kind: 'interval-not-held'; interval: string; why: string }
  /** The indicator's limits or width do not take a value. */
  | { kind: 'not-accepted'; register: string; value: string; why: string }
  | { kind: 'signal-beyond-input'; signal: string; largest: string }
  | { kind: 'excitation-not-measured' }
  | { kind: 'source-incomplete'; need: string }
  /** Counts stand for a part of the input range, which is neither chosen nor intended. */
  | { kind: 'input-range-unknown' }
  /** The digits of the indicator give both pairs the same signal. */
  | { kind: 'no-span-left'; register: string }

const of = (certificate: string | undefined) => (certificate === undefined ? '' : ` of ${certificate}`)

/** One or two sentences for people: what is wrong, and what would be right. */
export function explainScalingFailure(f: ScalingFailure): string {
  switch (f.kind) {
    case 'no-certificate':
      return 'No sensor is entered. Enter capacity and rated output from its certificate.'
    case 'not-above-nought':
      return `The ${f.what}${of(f.certificate)} is ${f.value}; it has to be above nought.${f.what === 'rated output' ? ' If the signal falls with load, the signal leads are swapped: correct the wiring, not the certificate.' : ''}`
    case 'capacity-missing':
      return `The capacity of ${f.certificate} is not stated. Enter it from the certificate, e.g. 500 kg.`
    case 'rated-output-missing':
      return `The rated output of ${f.certificate} is not stated. Enter it from the certificate, e.g. 2.0010 mV/V.`
    case 'rated-output-absurd':
      return `A rated output of ${f.value} mV/V (${f.certificate}) is beyond any strain-gauge sensor, which gives about 1 to 3 mV/V. Look at decimal sign and unit.`
    case 'excitation-of-certificate-missing':
      return `The output of ${f.certificate} is in mV. Enter the excitation at which it was certified, or the output in mV/V.`
    case 'wrong-unit':
      return `The ${f.what}${of(f.certificate)} is in ${units[f.unit].symbol}; it has to be in ${f.right}.`
    case 'unit-of-another-kind':
      return `The ${f.what} is in ${units[f.unit].symbol}, the measuring point in ${units[f.pointUnit].symbol}: they measure different things. Correct one of the two.`
    case 'gravity-needed':
      return f.whose === 'here'
        ? `Between ${units[f.unit].symbol}${of(f.certificate)} and ${units[f.pointUnit].symbol} of the measuring point stands gravity. Enter the gravity here at the load path, in m/s².`
        : `Between ${units[f.unit].symbol}${of(f.certificate)} and ${units[f.pointUnit].symbol} of the measuring point stands gravity. Enter the gravity behind the certificate: standard, or the laboratory's in m/s².`
    case 'gravity-absurd':
      return `Gravity ${f.whose === 'here' ? 'here' : 'behind the certificate'} is entered as ${f.value} m/s². On Earth it is between 9.76 and 9.84 m/s².`
    case 'model-not-computed':
      return `For the scaling model "${f.model}" this version computes no values. The point can still be checked with known loads.`
    case 'register-missing':
      return `The profile has no register ${f.register} for this channel. Without it the scaling cannot be put into the indicator.`
    case 'decimals-unknown':
      return `The decimals of the setting ${settingWords(f.register)} stand in another one that is neither read nor intended. Read the indicator first.`
    case 'unit-not-offered':
      return `The indicator does not show ${units[f.unit].symbol}; it offers ${f.offered.join(', ')}. ${
        f.fitting.length > 0
          ? `Choose ${f.fitting.join(' or ')} for the measuring point.`
          : `None is a unit of ${kindWords(f.unit)}; an indicator that shows one would be right.`
      }`
    case 'interval-not-held':
      return `The indicator cannot hold the scale interval ${f.interval}: ${f.why}. Choose another scale interval.`
    case 'not-accepted':
      return `The indicator does not take ${f.value} for the setting ${settingWords(f.register)}: ${f.why}.`
    case 'signal-beyond-input':
      return `At maximum load the sensors give up to ${f.signal}, more than the largest input range (${f.largest}) holds. Check rated output, dead load and maximum load.`
    case 'excitation-not-measured':
      return 'This input measures mV, not mV/V: its scaling needs the excitation, measured at the sensor. Enter it.'
    case 'source-incomplete':
      return `The chosen source of the scaling is not complete: ${f.need}.`
    case 'input-range-unknown':
      return 'The counts of this indicator hang on its input range, which is not known. Choose the range, or measure the excitation where ranges are in mV.'
    case 'no-span-left':
      return `With the digits of the setting ${settingWords(f.register)}, signal at zero and at maximum load are the same. This indicator cannot resolve this load.`
  }
}

/** The same in few words, for a table and a list. */
export function unscaledInBrief(f: ScalingFailure): string {
  switch (f.kind) {
    case 'no-certificate':
      return 'no certificate'
    case 'not-above-nought':
      return `${f.what} ${f.value}`
    case 'capacity-missing':
      return 'capacity not stated'
    case 'rated-output-missing':
      return 'rated output not stated'
    case 'rated-output-absurd':
      return `rated output ${f.value} mV/V`
    case 'excitation-of-certificate-missing':
      return 'certified excitation not stated'
    case 'wrong-unit':
    case 'unit-of-another-kind':
      return `${f.what} in ${units[f.unit].symbol}`
    case 'gravity-needed':
      return f.whose === 'here' ? 'gravity here not stated' : 'certificate’s gravity not stated'
    case 'gravity-absurd':
      return `gravity ${f.value} m/s²`
    case 'excitation-not-measured':
      return 'excitation not measured'
    case 'source-incomplete':
      return 'scaling source not complete'
    case 'model-not-computed':
    case 'register-missing':
    case 'decimals-unknown':
    case 'unit-not-offered':
    case 'interval-not-held':
    case 'not-accepted':
    case 'signal-beyond-input':
    case 'input-range-unknown':
    case 'no-span-left':
      return 'no scaling values'
  }
}

/** Where along the chain it is put right, as far as it lies in what is stated of the point. */
export function placeOfFailure(f: ScalingFailure): 'load' | 'sensors' {
  if (f.kind === 'gravity-needed' || f.kind === 'gravity-absurd') return f.whose === 'here' ? 'load' : 'sensors'
  if (f.kind !== 'not-above-nought') return 'sensors'
  return f.what === 'maximum load' || f.what === 'scale interval' || f.what === 'share carried' ? 'load' : 'sensors'
}

const impossible: readonly ScalingFailure['kind'][] = [
  'not-above-nought',
  'rated-output-absurd',
  'wrong-unit',
  'unit-of-another-kind',
  'gravity-absurd',
]

/** Whether something that is stated cannot be, where with others something is not stated yet. */
export const isImpossible = (f: ScalingFailure): boolean => impossible.includes(f.kind)

/** What does not stop a scaling and has to be known: a kind for the program, a sentence for people. */
export type ScalingWarning = {
  kind:
    | 'first-guess-trimmed'
    | 'beyond-capacity'
    | 'capacities-differ'
    | 'output-resistances-differ'
    | 'zero-balance-not-stated'
    | 'dead-load-not-stated'
    | 'gravity-not-stated'
    | 'leads-not-counted'
    | 'excitation-too-high'
    | 'excitation-not-stated'
    | 'excitation-differs-from-certificate'
    | 'signal-per-interval-small'
    | 'input-range-not-chosen'
    | 'intended-range-too-small'
    | 'intended-excitation-not-taken'
    | 'beyond-table'
    | 'loads-not-on-a-line'
    | 'shunt-shows-change-only'
  why: string
}
