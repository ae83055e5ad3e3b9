import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { z } from 'zod'
import { busFailure, explainBusFailure } from '../../app/contract/bus-failure.ts'
import type { LogEntry } from '../../app/contract/log-calls.ts'
import { refusal, resultOf } from '../../app/contract/replies.ts'
import { type Difference, type WriteFailure, writeFailure, writeReceipt } from '../../app/contract/views.ts'
import { explainWriteCause } from '../../app/contract/write-cause.ts'
import { pointsOf } from '../../app/job/intended.ts'
import { id, type Job } from '../../app/job/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { describeDiskProblem } from './disk-problem.ts'
import { companion } from './job-store.ts'
import { journalsIn, type OpenJournal } from './write-journal.ts'

const common = { at: z.string(), by: z.string(), indicatorId: id, unit: z.int() }
const line = z.union([
  z.object({ ...common, journalId: z.string(), result: resultOf(writeReceipt, writeFailure) }),
  z.object({ ...common, command: z.string(), channel: z.int(), result: resultOf(z.null(), z.union([busFailure, refusal])) }),
])
type Line = z.infer<typeof line>
type Entry = Omit<LogEntry, 'indicator' | 'tags'>

export type WriteLog = { entries: LogEntry[]; unreadable: number }
export type LogFilter = { indicatorId?: string | undefined; pointId?: string | undefined }

/** Writes and commands of a job, newest first: the log, and of journals those that never came to a line in it. Fails with a sentence. */
export function readWriteLog(jobPath: string, job: Job, filter: LogFilter = {}): Result<WriteLog, string> {
  try {
    const { lines, unreadable } = linesOf(join(companion(jobPath), 'log.jsonl'))
    const told = new Set(lines.flatMap((l) => ('journalId' in l ? [l.journalId] : [])))
    const untold = journalsIn(join(companion(jobPath), 'journal')).filter((j) => !told.has(j.journalId))
    const entries = [...lines.map(entryOfLine), ...untold.map(entryOfJournal)]
      .filter((entry) => isWanted(entry, job, filter))
      .sort((a, b) => b.at.localeCompare(a.at))
    return ok({ entries: entries.map((entry) => withNames(entry, job)), unreadable })
  } catch (cause) {
    return fail(describeDiskProblem(cause))
  }
}

/** How many entries the log has; null where the disk does not give it. */
export function countLogged(jobPath: string, job: Job): number | null {
  const log = readWriteLog(jobPath, job)
  return log.ok ? log.value.entries.length : null
}

function linesOf(path: string): { lines: Line[]; unreadable: number } {
  if (!existsSync(path)) return { lines: [], unreadable: 0 }
  const texts = readFileSync(path, 'utf8')
    .split('\n')
    .filter((text) => text !== '')
  const lines = texts.flatMap((text) => {
    try {
      const read = line.safeParse(JSON.parse(text))
      return read.success ? [read.data] : []
    } catch {
      return []
    }
  })
  return { lines, unreadable: texts.length - lines.length }
}

function entryOfLine(l: Line): Entry {
  const { at, by, indicatorId, unit } = l
  const head = { at, by, indicatorId, unit, values: [], alsoMoved: [], unsaved: [] }
  if ('command' in l) {
    const { command, channel, result } = l
    const why = result.ok ? {} : { why: result.failure.kind === 'refused-request' ? result.failure.why : explainBusFailure(result.failure) }
    return { ...head, kind: 'command', command, channel, result: result.ok ? 'done' : 'failed', ...why }
  }
  const write = { ...head, kind: 'write' as const, journalId: l.journalId }
  if (!l.result.ok) return { ...write, ...failed(l.result.failure) }
  const { written, alsoMoved, unsaved } = l.result.value
  return { ...write, result: 'written', values: written.map(loggedOf), alsoMoved, unsaved }
}

const loggedOf = ({ key, held, intended, unit, heldUnit }: Difference) => ({
  key,
  old: held,
  new: intended,
  ...(unit === undefined ? {} : { unit }),
  ...(heldUnit === undefined ? {} : { oldUnit: heldUnit }),
})

function failed(failure: WriteFailure): Pick<Entry, 'result' | 'why' | 'values'> {
  if (failure.kind !== 'failed') {
    const why = failure.kind === 'not-allowed' ? failure.why : 'The indicator no longer held what had been shown.'
    return { result: 'nothing-written', why, values: [] }
  }
  const { because, end, parameters } = failure
  return {
    result: end,
    why: explainWriteCause(because),
    values: parameters.map((p) => ({ key: p.key, old: p.before, new: p.wanted, now: p.now })),
  }
}

function entryOfJournal({ journalId, begin, lines }: OpenJournal): Entry {
  const end = lines.find((l) => l.kind === 'end')
  const { at, by, indicatorId, unit } = begin
  return {
    at,
    by,
    indicatorId,
    unit,
    kind: 'write',
    journalId,
    values: begin.wanted.map((w) => ({ key: w.key, old: begin.before.values[w.key]?.value ?? null, new: w.value })),
    alsoMoved: [],
    unsaved: [],
    result: end?.kind === 'end' ? end.outcome : 'open',
    why: 'This stands in the journal of the write only: the program or the disk ended before its line of the log was kept.',
  }
}

function isWanted(entry: Entry, job: Job, { indicatorId, pointId }: LogFilter): boolean {
  if (indicatorId !== undefined && entry.indicatorId !== indicatorId) return false
  if (pointId === undefined) return true
  const point = job.points.find((p) => p.id === pointId)
  return point !== undefined && touches(entry, point)
}

/** A value of the whole indicator touches each of its points. */
function touches(entry: Entry, point: Job['points'][number]): boolean {
  if (point.indicatorId !== entry.indicatorId) return false
  if (entry.kind === 'command') return entry.channel === point.channel
  const keys = [...entry.values, ...entry.alsoMoved].map((v) => v.key)
  return keys.length === 0 || pointsOf([point], keys).length > 0
}

const withNames = (entry: Entry, job: Job): LogEntry => ({
  ...entry,
  indicator: job.indicators.find((i) => i.id === entry.indicatorId)?.name ?? entry.indicatorId,
  tags: job.points.filter((p) => touches(entry, p)).map((p) => p.tag),
})
