import { ageText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'

export type ReadingState = {
  /** The indicator's own text, or null where there is no number. */
  reading: string | null
  unit: string
  kind: 'gross' | 'net'
  /** One word for the state, and whether it may be trusted now. */
  word: string
  origin: 'live' | 'stale' | 'not read'
  /** More than three polls missed: large digits are struck out. */
  struck: boolean
  tone: 'plain' | 'attention' | 'lost'
}

const strikeAfterMs = 1_500

const statusWords: Record<string, string> = {
  'over-range': 'over range',
  'under-range': 'under range',
  fault: 'fault',
  hold: 'held by the indicator',
  busy: 'busy',
  'shunt-on': 'shunt on',
}

/** What the reading says about itself. "Steady" never survives stale. */
export function readingState(view: PointView): ReadingState {
  const { live, point } = view
  if (!live || live.state === 'never-read')
    return { reading: null, unit: point.unit, kind: 'gross', word: 'not read yet', origin: 'not read', struck: false, tone: 'plain' }
  const { sample } = live
  const kind = sample.status.includes('net') ? 'net' : 'gross'
  const base = { reading: sample.reading, unit: sample.unit, kind } as const
  if (live.state === 'stale')
    return {
      ...base,
      word: `${ageText(live.ageMs)} old`,
      origin: 'stale',
      struck: live.ageMs >= strikeAfterMs,
      tone: live.because.kind === 'stopped' ? 'attention' : 'lost',
    }
  const trouble = sample.status.filter((s) => s in statusWords).map((s) => statusWords[s])
  if (trouble.length > 0)
    return {
      ...base,
      word: trouble.join(', '),
      origin: 'live',
      struck: false,
      tone: trouble.some((t) => t !== 'shunt on' && t !== 'busy') ? 'lost' : 'attention',
    }
  return { ...base, word: live.steady ? 'steady' : 'moving', origin: 'live', struck: false, tone: 'plain' }
}

/** Signal as text at no more decimals than it is worth on the screen, and its origin. */
export function signalState(view: PointView): { text: string; unit: 'mV/V' | 'mV'; origin: 'measured' | 'derived'; value: number } | null {
  const { live } = view
  if (!live || live.state === 'never-read' || live.sample.signal === null || live.sample.signalOrigin === 'none') return null
  const { signal, signalUnit, signalOrigin } = live.sample
  const decimals = Math.min(signal.split('.')[1]?.length ?? 0, signalUnit === 'mV/V' ? 5 : 4)
  return { text: Number(signal).toFixed(decimals), unit: signalUnit, origin: signalOrigin, value: Number(signal) }
}
