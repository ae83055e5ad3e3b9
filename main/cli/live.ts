import type { Command } from 'commander'
import type { LiveSample } from '../../app/contract/views.ts'
import { signalText } from '../../app/evaluation/signal-worth.ts'
import { type CommandEnd, failedBy, misused } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { seconds } from './numbers.ts'
import { findPoint, type JobOptions, reach, withJob, withJobOption } from './open-job.ts'
import { type Around, describeCommand, run } from './run-command.ts'

type Options = JobOptions & { point?: string; for?: number }

export function addLive(program: Command): void {
  describeCommand(
    withJobOption(
      program
        .command('live')
        .description('readings of one point, a line each, until Ctrl-C; exit code 1 where the last word was a failure'),
    )
      .option('--point <tag>', 'which measuring point; not needed where the job has one only')
      .option('--for <seconds>', 'end by itself after this long', seconds),
    ['live --job site.job.json --point WT-101', 'live --job site.job.json --for 10 --json > readings.jsonl'],
    'live',
  ).action(run((options: Options, around) => live(options, around)))
}

/** Ctrl-C is how this is meant to end: then there is no end to report. */
async function live(options: Options, around: Around): Promise<CommandEnd | null> {
  const { signal } = around.interrupts
  const end = await withJob(options, around, async (host) => {
    const point = findPoint(host, options.point)
    if (!point.ok) return misused(point.failure)
    const { id, tag, indicatorId } = point.value
    const indicator = host.topics.get('job')?.indicators.find((i) => i.id === indicatorId)
    if (!indicator) return misused(`The point ${tag} has no indicator to read.`)
    const reached = await reach(host, indicator, around)
    if (!reached.ok) return reached.failure
    // The settings say in what unit and with which decimals it reads.
    const held = await host.call('settings.read', { indicatorId: indicator.id })
    if (!held.ok) return failedBy(held.failure)
    around.progress.end()

    const now = () => new Date().toISOString()
    let failing: string | null = null
    let noise: number | null = null
    const line = (sample: LiveSample) => {
      failing = null
      const view = host.topics.get('live', id)
      // A changing load is no noise: what was known of it before still holds.
      if (view?.state === 'fresh' && view.steady) noise = view.noiseSignal ?? noise
      const { at: _, ...rest } = sample
      const at = now()
      const text = signalText(sample, noise)
      const signal = text === null ? '' : `  ${text} ${sample.signalUnit}${sample.signalOrigin === 'derived' ? ' (derived)' : ''}`
      around.emit(`${at}  ${tag}  ${sample.reading ?? 'no number'} ${sample.unit}${signal}  ${sample.status.join(' ')}`.trimEnd(), {
        state: 'fresh',
        tag,
        at,
        ...rest,
      })
    }
    const unsubscribe = host.topics.subscribe((message) => {
      if (message.kind === 'samples') for (const sample of message.samples) if (sample.pointId === id) line(sample)
      if (message.kind !== 'topic' || message.topic !== 'indicator' || message.key !== indicator.id || signal.aborted) return
      const answering = host.topics.get('indicator', indicator.id)?.answering
      if (typeof answering !== 'object') return
      failing = answering.kind
      const lost = failedBy(answering)
      around.emit(`${now()}  ${tag}  no reading: ${lost.lines[0]}`, { state: 'stale', tag, at: now(), pointId: id, because: answering })
    })
    await host.call('live.start', { pointIds: [id] })
    await until(signal, options.for)
    unsubscribe()
    return { exit: failing === null ? exitCode.done : exitCode.failed, lines: [], json: null }
  })
  if (end.json === null || signal.aborted) {
    process.exitCode = end.exit
    return null
  }
  return end
}

const until = (signal: AbortSignal, forSeconds: number | undefined): Promise<void> =>
  new Promise((resolve) => {
    const timer = setTimeout(resolve, Math.min((forSeconds ?? 86_400 * 24) * 1000, 2 ** 31 - 1))
    const end = () => {
      clearTimeout(timer)
      resolve()
    }
    if (signal.aborted) end()
    else signal.addEventListener('abort', end, { once: true })
  })
