import type { Difference, IndicatorView } from '../../app/contract/views.ts'
import type { Job, Point } from '../../app/job/schema.ts'
import { isScaling } from '../../app/profile/scaling-registers.ts'
import { numberText, signedFixedText } from '../figures/number-text.ts'

const pairNames = ['scale.lower.signal', 'scale.lower.reading', 'scale.upper.signal', 'scale.upper.reading'] as const
type Pairs = Record<(typeof pairNames)[number], number>

const says: Record<string, string> = {
  'filter.time': 'the reading settles slower or faster; noise changes',
  'input.range': 'the input is measured anew; noise and resolution change',
  'excitation.voltage': 'the bridge is fed with another voltage',
  'reading.decimals': 'other digits on the display',
  'reading.unit': 'the reading is shown in another unit',
  'reading.interval': 'the reading moves in other steps',
}

/** What one change does, in a few words; `told` where by how much it moves the reading stands below. */
export function consequenceOf(d: Difference, told: boolean): string {
  const [name = ''] = d.key.split('@')
  return says[name] ?? (isScaling(name) ? `moves the reading${told ? ', see below' : ''}` : '')
}

/** Change of the reading that the new pairs make, at nought and at the signal that gives maximum load now; null where the pairs stay. */
export function scalingConsequence(job: Job, point: Point, state: IndicatorView | undefined, writes: readonly Difference[]): string | null {
  const before: Partial<Pairs> = {}
  const after: Partial<Pairs> = {}
  let changes = false
  for (const name of pairNames) {
    const key = `${name}@${point.channel}`
    const held = state?.held?.values[key]?.value
    const write = writes.find((d) => d.key === key)
    if (held === null || held === undefined) return null
    before[name] = Number(held)
    after[name] = Number(write?.intended ?? held)
    changes ||= write !== undefined
  }
  if (!changes) return null
  const shown = (p: Pairs, signal: number) =>
    p['scale.lower.reading'] +
    ((signal - p['scale.lower.signal']) * (p['scale.upper.reading'] - p['scale.lower.reading'])) /
      (p['scale.upper.signal'] - p['scale.lower.signal'])
  const [b, a] = [before as Pairs, after as Pairs]
  const perReading = (b['scale.upper.signal'] - b['scale.lower.signal']) / (b['scale.upper.reading'] - b['scale.lower.reading'])
  const signalAt = (reading: number) => b['scale.lower.signal'] + (reading - b['scale.lower.reading']) * perReading
  const tell = (reading: number) => {
    const by = shown(a, signalAt(reading)) - reading
    return `${signedFixedText(by, 1, job.decimalSign)} ${point.unit} (${signedFixedText(by / Number(point.scaleInterval), 1, job.decimalSign)} d)`
  }
  const maximum = Number(point.maximumLoad)
  const values = [tell(0), tell(maximum)]
  return values.every((v) => v.includes('NaN') || v.includes('Infinity'))
    ? null
    : `A reading of 0 moves by ${values[0]}, one of ${numberText(point.maximumLoad, job.decimalSign)} ${point.unit} by ${values[1]}.`
}
