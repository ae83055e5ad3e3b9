import { signalText } from '../../app/evaluation/signal-worth.ts'
import { briefly } from '../figures/explain.ts'
import { ageText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'
import { beyondMaximum } from './beyond-maximum.ts'

export type ReadingState = {
  /** The indicator's own text, or null where there is no number. */
  reading: string | null
  unit: string
  kind: 'gross' | 'net'
  /** One word for the state, and whether it may be trusted now. */
  word: string
  /** What makes a live reading not to be relied on, in a word or two for a table; null where nothing does. */
  alarm: string | null
  /** The word for what the indicator itself gives, steady, moving or its trouble, whatever load that is. */
  given: string
  origin: 'live' | 'stale' | 'not read'
  /** Three polls or more are missed, at the rate of this bus: digits are struck out. */
  struck: boolean
  tone: 'plain' | 'attention' | 'lost'
}

const strikeAfterPolls = 3

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
  if (!live || live.state === 'never-read') {
    const because = live?.because
    const word = because ? `never read: ${briefly(because)}` : 'not read yet'
    const tone = !because ? 'plain' : because.kind === 'stopped' ? 'attention' : 'lost'
    return { reading: null, unit: point.unit, kind: 'gross', word, alarm: null, given: word, origin: 'not read', struck: false, tone }
  }
  const { sample } = live
  const kind = sample.status.includes('net') ? 'net' : 'gross'
  const base = { reading: sample.reading, unit: sample.unit, kind } as const
  if (live.state === 'stale')
    return {
      ...base,
      word: `${ageText(live.ageMs)} old`,
      alarm: null,
      given: 'stale',
      origin: 'stale',
      struck: live.missed >= strikeAfterPolls,
      tone: live.because.kind === 'stopped' ? 'attention' : 'lost',
    }
  const trouble = sample.status.flatMap((s) => statusWords[s] ?? [])
  const beyond = beyondMaximum(view)
  const given = trouble.length > 0 ? trouble.join(', ') : sample.reading === null ? 'no number' : live.steady ? 'steady' : 'moving'
  const lost = [...(beyond ? [beyond.word] : []), ...trouble.filter((t) => t !== 'shunt on' && t !== 'busy')]
  return {
    ...base,
    word: !beyond ? given : [`${beyond.word}, ${beyond.percent} %`, ...trouble].join(', '),
    alarm: lost[0] ?? null,
    given,
    origin: 'live',
    struck: false,
    tone: lost.length > 0 ? 'lost' : trouble.length > 0 ? 'attention' : 'plain',
  }
}

/** Signal as text at no more decimals than it is worth on the screen, and its origin. */
export function signalState(view: PointView): { text: string; unit: 'mV/V' | 'mV'; origin: 'measured' | 'derived'; value: number } | null {
  const { live } = view
  if (!live || live.state === 'never-read' || live.sample.signal === null || live.sample.signalOrigin === 'none') return null
  const { signal, signalUnit, signalOrigin } = live.sample
  const text = signalText(live.sample, null)
  return text === null ? null : { text, unit: signalUnit, origin: signalOrigin, value: Number(signal) }
}
