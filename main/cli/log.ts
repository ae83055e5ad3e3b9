import { resolve } from 'node:path'
import type { Command } from 'commander'
import type { LogEntry } from '../../app/contract/log-calls.ts'
import { readJob } from '../files/job-store.ts'
import { readWriteLog } from '../files/write-log.ts'
import { failed, misused } from './command-end.ts'
import { counted } from './counted.ts'
import { exitCode } from './exit-codes.ts'
import { type JobOptions, withJobOption } from './open-job.ts'
import { describeCommand, run } from './run-command.ts'
import { differenceLine } from './setting-lines.ts'

type Options = JobOptions & { point?: string; indicator?: string }

/** Reads files only: it also serves while the job is open elsewhere. */
export function addLog(program: Command): void {
  describeCommand(
    withJobOption(program.command('log').description('every write and command, newest first: when, by whom, old and new value, result'))
      .option('--point <tag>', 'only what touched this measuring point')
      .option('--indicator <id>', 'only this indicator, by id or name'),
    ['log --job site.job.json', 'log --job site.job.json --point WT-101 --json'],
    'log',
  ).action(
    run(async (options: Options) => {
      const path = resolve(options.job)
      const job = readJob(path)
      if (!job.ok) return failed(job.failure)
      const { points, indicators } = job.value
      const point = points.find((p) => p.tag === options.point) ?? points.find((p) => p.id === options.point)
      if (options.point !== undefined && !point) return misused(`The job has no point "${options.point}".`)
      const indicator = indicators.find((i) => i.id === options.indicator) ?? indicators.find((i) => i.name === options.indicator)
      if (options.indicator !== undefined && !indicator) return misused(`The job has no indicator "${options.indicator}".`)
      const log = readWriteLog(path, job.value, { pointId: point?.id, indicatorId: indicator?.id })
      if (!log.ok) return failed({ why: log.failure })
      const { entries, unreadable } = log.value
      const lost = unreadable > 0 ? [`${counted(unreadable, 'line')} of the log cannot be read.`] : []
      return {
        exit: exitCode.done,
        lines: [...(entries.length === 0 ? ['Nothing has been written.'] : entries.flatMap(entryLines)), ...lost],
        json: { ok: true, ...log.value },
      }
    }),
  )
}

function entryLines(e: LogEntry): string[] {
  const what = e.kind === 'command' ? `${e.command} on channel ${e.channel}` : counted(e.values.length, 'setting')
  const on = e.tags.length > 0 ? ` (${e.tags.join(', ')})` : ''
  return [
    `${e.at}  ${e.by || 'not named'}  ${e.indicator}${on}: ${what}, ${e.result.replaceAll('-', ' ')}${e.why === undefined ? '' : `. ${e.why}`}`,
    ...e.values.map((v) => {
      const now = v.now === undefined ? '' : `, held since: ${v.now === 'unknown' ? 'unknown' : (v.now.value ?? 'no number')}`
      return differenceLine({ key: v.key, held: v.old, intended: v.new, unit: v.unit, heldUnit: v.oldUnit }) + now
    }),
    ...(e.unsaved.length > 0 ? [`  not saved in the indicator: ${e.unsaved.join(', ')}`] : []),
    ...e.alsoMoved.map((d) => `${differenceLine(d)} (nobody asked for it)`),
  ]
}
