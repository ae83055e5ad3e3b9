import { closeSync, existsSync, fsyncSync, mkdirSync, openSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { z } from 'zod'
import { place } from '../../app/contract/place.ts'
import { heldValue, id, settingsImage } from '../../app/job/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { describeDiskProblem } from './disk-problem.ts'

const words = z.array(z.int())

/** First line of a journal: all that is needed to put the indicator back, or to finish, after the host is gone. */
export const journalBegin = z.strictObject({
  kind: z.literal('begin'),
  at: z.string(),
  by: z.string(),
  indicatorId: id,
  unit: z.int(),
  profileId: z.string(),
  before: settingsImage,
  /** Where it was reached, and the words that tell it from others, where the write gives it another address or line format. */
  place: place.optional(),
  who: z.record(z.string(), words).optional(),
  wanted: z.array(z.strictObject({ key: z.string(), value: z.string(), words })),
})

const journalLine = z.discriminatedUnion('kind', [
  journalBegin,
  z.strictObject({ kind: z.literal('sending'), at: z.string(), keys: z.array(z.string()) }),
  z.strictObject({ kind: z.literal('step'), at: z.string(), step: z.string() }),
  z.strictObject({
    kind: z.literal('end'),
    at: z.string(),
    outcome: z.enum(['written', 'restored', 'not-restored', 'nothing-written', 'left']),
    now: z.record(z.string(), heldValue).optional(),
  }),
])

export type JournalBegin = z.infer<typeof journalBegin>
export type JournalLine = z.infer<typeof journalLine>
export type OpenJournal = { journalId: string; begin: JournalBegin; lines: JournalLine[] }

/** Journal of one write. Every line is on the disk before the next request leaves; `note` says so, or why the disk did not take it. */
export type WriteJournal = { journalId: string; note(line: JournalLine): Result<null, JournalLost>; close(): void }
export type JournalLost = { kind: 'journal-not-kept'; why: string }

/** Where the journals of one job live: `X.job/journal/`, one file a write, one JSON object a line. */
export type JournalFolder = {
  /** Fails with a sentence where the disk does not take it; then nothing may be written. */
  begin(line: JournalBegin): Result<WriteJournal, string>
  /** Continues a journal found open; says why where the disk does not take that. */
  reopen(journalId: string): Result<WriteJournal, string>
  /** Writes that were begun and never ended: the host was killed, or the line was lost. */
  open(): OpenJournal[]
  all(): OpenJournal[]
}

export function journalFolder(folder: string): JournalFolder {
  mkdirSync(folder, { recursive: true })
  const pathOf = (journalId: string) => join(folder, `${journalId}.jsonl`)

  const append = (journalId: string, flag: 'ax' | 'a'): WriteJournal => {
    const file = openSync(pathOf(journalId), flag)
    return {
      journalId,
      note(line) {
        try {
          writeFileSync(file, `${JSON.stringify(line)}\n`)
          fsyncSync(file)
          return ok(null)
        } catch (cause) {
          return fail({ kind: 'journal-not-kept', why: describeDiskProblem(cause) })
        }
      },
      close: () => closeSync(file),
    }
  }

  const all = () => journalsIn(folder)

  return {
    begin(line) {
      try {
        const journal = append(nextId(folder, line.at, line.indicatorId), 'ax')
        const noted = journal.note(line)
        if (!noted.ok) {
          journal.close()
          return fail(noted.failure.why)
        }
        // The name itself must survive a power cut, not only the bytes.
        const directory = openSync(folder, 'r')
        try {
          fsyncSync(directory)
        } catch {
          // Some systems do not sync folders; the file itself is synced.
        } finally {
          closeSync(directory)
        }
        return ok(journal)
      } catch (cause) {
        return fail(describeDiskProblem(cause))
      }
    },
    reopen(journalId) {
      try {
        const file = openSync(pathOf(journalId), 'a')
        try {
          // Ends a line that a kill cut short, so that the next one stands by itself.
          writeFileSync(file, '\n')
        } finally {
          closeSync(file)
        }
        return ok(append(journalId, 'a'))
      } catch (cause) {
        return fail(describeDiskProblem(cause))
      }
    },
    open: () => all().filter((j) => !j.lines.some((line) => line.kind === 'end')),
    all,
  }
}

/** Every write begun in a folder of journals, oldest first; nothing is made where there is none. */
export function journalsIn(folder: string): OpenJournal[] {
  if (!existsSync(folder)) return []
  return readdirSync(folder)
    .filter((name) => name.endsWith('.jsonl'))
    .sort()
    .flatMap((name) => {
      const lines = readLines(join(folder, name))
      const begin = lines[0]
      return begin?.kind === 'begin' ? [{ journalId: name.slice(0, -'.jsonl'.length), begin, lines }] : []
    })
}

function nextId(folder: string, at: string, indicatorId: string): string {
  const stem = `${at.replace(/[^0-9]/g, '').slice(0, 17)}-${indicatorId}`
  const taken = new Set(readdirSync(folder))
  for (let n = 0; ; n++) {
    const name = n === 0 ? stem : `${stem}-${n}`
    if (!taken.has(`${name}.jsonl`)) return name
  }
}

/** Whole lines only: one cut short by a kill was never acted upon. */
function readLines(path: string): JournalLine[] {
  const lines: JournalLine[] = []
  for (const text of readFileSync(path, 'utf8').split('\n')) {
    if (text === '') continue
    let json: unknown
    try {
      json = JSON.parse(text)
    } catch {
      continue
    }
    const line = journalLine.safeParse(json)
    if (line.success) lines.push(line.data)
  }
  return lines
}
