import type { z } from 'zod'
import { explainBusFailure } from './bus-failure.ts'
import type { writeFailed } from './views.ts'

/** What stopped a write: the bus, a value that was not taken, or the disk. */
export type WriteCause = z.infer<typeof writeFailed>['because']

type Naming = { setting(key: string): string; value(text: string): string }
const asItIs: Naming = { setting: (key) => key, value: (text) => text }

/** One or two sentences for people: what stopped a write and what to do about it. */
export function explainWriteCause(because: WriteCause, { setting, value }: Naming = asItIs): string {
  switch (because.kind) {
    case 'read-back-differs':
      return `${setting(because.key)} reads back ${value(because.got)} instead of ${value(because.wanted)}.`
    case 'job-not-saved':
      return `The job could not be saved: ${because.why}`
    case 'journal-not-kept':
      return `The journal of the write could not be kept: ${because.why} Make room on the disk first; nothing is sent without it.`
    default:
      return explainBusFailure(because)
  }
}
