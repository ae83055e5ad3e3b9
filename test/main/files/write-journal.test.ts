import { appendFileSync, mkdtempSync, readdirSync, statSync, truncateSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { type JournalBegin, type JournalFolder, journalFolder } from '../../../main/files/write-journal.ts'
import { value } from '../../builders/practice-host.ts'

const folder = () => mkdtempSync(join(tmpdir(), 'spanwright-journal-'))
const begin: JournalBegin = {
  kind: 'begin',
  at: '2026-11-25T10:00:00.000Z',
  by: 'A. Tester',
  indicatorId: 'ind-1',
  unit: 1,
  profileId: 'two-pairs-float32-locked',
  before: { at: '2026-11-25T09:59:59.000Z', values: { 'filter.time@1': { words: [20], value: '0.20' } } },
  wanted: [{ key: 'filter.time@1', value: '0.50', words: [50] }],
}

const begun = (journals: JournalFolder) => value(journals.begin(begin))

describe('journal of writes', () => {
  it('is open until it is ended, also for a host that starts later', () => {
    const path = folder()
    const journal = begun(journalFolder(path))
    journal.note({ kind: 'sending', at: begin.at, keys: ['filter.time@1'] })
    journal.close()

    const found = journalFolder(path).open()
    expect(found.map((j) => j.begin)).toEqual([begin])

    const again = value(journalFolder(path).reopen(found[0]!.journalId))
    again.note({ kind: 'end', at: begin.at, outcome: 'restored' })
    again.close()
    expect(journalFolder(path).open()).toEqual([])
    expect(journalFolder(path).all()).toHaveLength(1)
  })

  it('survives a line cut short: what stands before it counts, and it can be ended', () => {
    const path = folder()
    begun(journalFolder(path)).close()
    const file = join(path, readdirSync(path)[0]!)
    appendFileSync(file, '{"kind":"sending","at":"2026')
    const [open] = journalFolder(path).open()
    expect(open?.lines).toEqual([begin])
    const again = value(journalFolder(path).reopen(open!.journalId))
    again.note({ kind: 'end', at: begin.at, outcome: 'left' })
    again.close()
    expect(journalFolder(path).open()).toEqual([])
  })

  it('ignores a journal whose first line never became whole: nothing was sent on it', () => {
    const path = folder()
    begun(journalFolder(path)).close()
    const file = join(path, readdirSync(path)[0]!)
    truncateSync(file, statSync(file).size - 10)
    expect(journalFolder(path).open()).toEqual([])
  })

  it('keeps two writes of the same instant apart', () => {
    const journals = journalFolder(folder())
    begun(journals).close()
    begun(journals).close()
    expect(journals.open()).toHaveLength(2)
  })
})
