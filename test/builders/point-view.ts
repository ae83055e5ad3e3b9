import type { IndicatorView, LiveSample, LiveView } from '../../app/contract/views.ts'
import { practiceJob } from '../../main/practice/practice-job.ts'
import type { PointView } from '../../renderer/state/point-view.ts'
import { makePoint } from './weighing-point.ts'

/** A point up to 500 kg as a page sees it: nothing is known of it but what is given. */
export const makeView = (known: Partial<PointView>): PointView => ({
  job: practiceJob(),
  point: makePoint(),
  live: undefined,
  indicator: undefined,
  profile: undefined,
  state: undefined,
  visit: undefined,
  lastCheck: undefined,
  runningCheck: undefined,
  ...known,
})

/** An indicator that answers and was read, holding these settings by key; not identified, nothing written. */
export const holding = (values: Record<string, string>): IndicatorView => ({
  answering: 'yes',
  identity: { outcome: 'not-asked', tests: [], compareWithPanel: [] },
  held: {
    at: '2026-01-01T00:00:00Z',
    values: Object.fromEntries(Object.entries(values).map(([key, value]) => [key, { words: [], value }])),
  },
  differs: [],
  writing: null,
  lastWrite: null,
  openWrite: null,
})

/** A sample as it is read now, steady. */
export const freshLive = (sample: LiveSample): LiveView => ({ state: 'fresh', sample, steady: true, noiseSignal: null })

/** The same 9 s later, the unit having been silent since. */
export const staleLive = (sample: LiveSample): LiveView => ({
  state: 'stale',
  sample,
  ageMs: 9_000,
  missed: 9,
  because: { kind: 'no-reply', waitedMs: 300, tries: 2 },
})
