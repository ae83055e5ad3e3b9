import { type Command, InvalidArgumentError } from 'commander'
import type { Host } from '../host/host.ts'
import { type CommandEnd, failedBy } from './command-end.ts'

export const byOption = (command: Command): Command =>
  command.option('--by <name>', 'who is at the machine; kept with what is written and checked', (name) => {
    const trimmed = name.trim()
    if (trimmed.length === 0 || trimmed.length > 80) throw new InvalidArgumentError('A name of 1 to 80 characters is needed.')
    return trimmed
  })

/** One visit goes on over several commands: the same name on the same day. Null where it began. */
export async function startVisit(host: Host, by: string): Promise<CommandEnd | null> {
  const begun = await host.call('visit.start', { by, resume: true })
  return begun.ok ? null : failedBy(begun.failure)
}
