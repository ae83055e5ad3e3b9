import { resolve } from 'node:path'
import type { Command } from 'commander'
import type { Indicator, Point } from '../../app/job/schema.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { Host } from '../host/host.ts'
import { openHost } from '../open-host.ts'
import { type CommandEnd, failed, failedBy, misused } from './command-end.ts'
import type { Around } from './run-command.ts'

export type JobOptions = { job: string; json?: boolean }
export type IndicatorOptions = JobOptions & { indicator?: string; point?: string }

/** An indicator of the open job, with its bus open. */
export type Reached = { host: Host; indicator: Indicator; profile: Profile; shown: ShownIndicator }
export type ShownIndicator = { id: string; name: string; unit: number; profile: string }

export const withJobOption = (command: Command): Command => command.requiredOption('--job <file>', 'the job file (*.job.json)')

export const withIndicatorOptions = (command: Command): Command =>
  withJobOption(command)
    .option('--indicator <id>', 'which indicator, by id or name; not needed where the job has one only')
    .option('--point <tag>', 'or the measuring point whose indicator is meant')

/** Opens the job for this command alone and closes it in any case. Nothing is sent by this. Ctrl-C stops all sending. */
export async function withJob(options: JobOptions, around: Around, work: (host: Host) => Promise<CommandEnd>): Promise<CommandEnd> {
  const opened = await openHost({ jobPath: resolve(options.job), shell: 'command line', address: 'command line' })
  if (!opened.ok) return failed({ why: opened.failure.why, where: opened.failure.where })
  const { host, practice } = opened.value
  const stop = () => void host.call('sending.stop', {})
  const { signal } = around.interrupts
  signal.addEventListener('abort', stop, { once: true })
  try {
    if (practice) around.note('Practice bench: simulated indicators, no real machine.')
    return signal.aborted ? failedBy({ kind: 'stopped' }) : await work(host)
  } finally {
    signal.removeEventListener('abort', stop)
    await host.close()
  }
}

/** The job is opened, the one indicator that is meant is found, and its bus is opened; then `work`. */
export const withIndicator = (
  options: IndicatorOptions,
  around: Around,
  work: (reached: Reached) => Promise<CommandEnd>,
): Promise<CommandEnd> =>
  withJob(options, around, async (host) => {
    const found = findIndicator(host, options)
    if (!found.ok) return misused(found.failure)
    const reached = await reach(host, found.value, around)
    return reached.ok ? work(reached.value) : reached.failure
  })

export async function reach(host: Host, indicator: Indicator, around: Around): Promise<Result<Reached, CommandEnd>> {
  const profile = host.profileOf(indicator.id)
  if (!profile)
    return fail(
      failed({ why: `The job names the profile ${indicator.profileId}, which is neither bundled nor in it.`, where: indicator.id }),
    )
  around.progress.say('Opening the bus')
  const opened = await host.call('bus.open', { busId: indicator.busId })
  if (!opened.ok) return fail(failedBy(opened.failure))
  if (host.topics.get('bus', indicator.busId)?.state === 'listening')
    around.progress.say('Listening for another master before the first request')
  const shown = { id: indicator.id, name: indicator.name, unit: indicator.unit, profile: profile.id }
  return ok({ host, indicator, profile, shown })
}

/** The indicator that is meant; the only one where none is named. */
export function findIndicator(host: Host, { indicator, point }: IndicatorOptions): Result<Indicator, string> {
  const job = host.topics.get('job')
  const all = job?.indicators ?? []
  const there = `There ${all.length === 1 ? 'is' : 'are'} ${all.map((i) => `${i.id} (${i.name})`).join(', ') || 'none'}.`
  if (indicator !== undefined && point !== undefined) return fail('Give either --indicator or --point.')
  if (point !== undefined) {
    const found = findPoint(host, point)
    if (!found.ok) return found
    const its = all.find((i) => i.id === found.value.indicatorId)
    return its ? ok(its) : fail(`The point ${found.value.tag} has no indicator.`)
  }
  if (indicator === undefined)
    return all.length === 1 && all[0] ? ok(all[0]) : fail(`Say which indicator: --indicator or --point. ${there}`)
  const found = all.find((i) => i.id === indicator) ?? all.find((i) => i.name === indicator)
  return found ? ok(found) : fail(`The job has no indicator "${indicator}". ${there}`)
}

/** A measuring point by tag or id; the only one where none is named. */
export function findPoint(host: Host, name: string | undefined): Result<Point, string> {
  const all = host.topics.get('job')?.points ?? []
  const there = `There are ${all.map((p) => p.tag).join(', ') || 'none'}.`
  if (name === undefined) return all.length === 1 && all[0] ? ok(all[0]) : fail(`Say which point: --point. ${there}`)
  const found = all.find((p) => p.tag === name) ?? all.find((p) => p.id === name)
  return found ? ok(found) : fail(`The job has no point "${name}". ${there}`)
}
