import type { IndicatorView, WriteFailure } from '../../app/contract/views.ts'
import type { Host } from '../host/host.ts'
import { type CommandEnd, ended } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import type { Around } from './run-command.ts'
import { writeFailureLines } from './setting-lines.ts'

type Writing = NonNullable<IndicatorView['writing']>

/** Where a write is now, in a few words. */
export const writingWords = ({ step, done, of, says }: Writing): string => says ?? `${step.replace('-', ' ')}, ${done} of ${of}`

/** A write runs to its own safe end: its steps are told, the first Ctrl-C is answered by `first`, the second stops sending. */
export async function guardedWrite<T>(
  host: Host,
  indicatorId: string,
  { progress, interrupts, note }: Around,
  work: Promise<T>,
  says: { step(writing: Writing): string; first: string },
): Promise<T> {
  const stopListening = host.topics.subscribe((message) => {
    if (message.kind !== 'topic' || message.topic !== 'indicator' || message.key !== indicatorId) return
    const writing = host.topics.get('indicator', indicatorId)?.writing
    if (writing) progress.say(says.step(writing))
  })
  try {
    return await interrupts.guarded(work, {
      first: () => note(`${says.first} Ctrl-C again stops sending at once.`),
      again() {
        note('Sending is stopped. The journal keeps the way back; "spanwright settings resolve" ends it.')
        void host.call('sending.stop', {})
      },
    })
  } finally {
    stopListening()
  }
}

/** How a command ends whose write did not end well; `name` where it writes to several indicators. */
export function writeEnded(failure: WriteFailure, name?: string): CommandEnd {
  const [why = '', ...rest] = writeFailureLines(failure)
  const code = failure.kind === 'not-allowed' ? exitCode.notAllowed : exitCode.failed
  return ended(code, { why: name === undefined ? why : `${name}: ${why}`, detail: failure }, rest)
}
