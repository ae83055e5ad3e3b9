import { existsSync, rmSync, symlinkSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterEach, describe, expect, it } from 'vitest'
import type { JournalLine } from '../../../main/files/write-journal.ts'
import { type Disk, openHostOn, type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

const indicatorId = 'ind-1'
const pointId = 'wt-101'
let practice: PracticeHost
afterEach(() => practice.close())

/** A disk that is full as soon as the journal of a write comes to a line that `fills` it, until `room` is made. */
function fillingDisk(fills: (line: JournalLine) => boolean) {
  let full = false
  let roomy = false
  const disk: Disk = (store) => ({
    ...store,
    get job() {
      return store.job
    },
    journal: {
      ...store.journal,
      reopen: (id) => (full ? { ok: false, failure: 'The disk is full.' } : store.journal.reopen(id)),
      begin(line) {
        const begun = store.journal.begin(line)
        if (!begun.ok) return begun
        const note = (next: JournalLine) => {
          full ||= !roomy && fills(next)
          return full
            ? { ok: false as const, failure: { kind: 'journal-not-kept' as const, why: 'The disk is full.' } }
            : begun.value.note(next)
        }
        return { ok: true, value: { ...begun.value, note } }
      },
    },
  })
  return {
    disk,
    room() {
      full = false
      roomy = true
    },
  }
}

const revision = () => practice.host.topics.get('job')?.revision ?? 0
const view = () => practice.host.topics.get('indicator', indicatorId)

/** Two settings that are not neighbours, so that they travel in two requests. */
async function write() {
  const values = { 'filter.time@1': '0.50', 'reading.interval@1': '0.5' }
  value(await practice.host.call('point.intend', { pointId, revision: revision(), values }))
  const preview = value(await practice.host.call('settings.preview', { indicatorId }))
  return practice.host.call('settings.write', { previewId: preview.previewId })
}

describe('a disk that is full', () => {
  const isSecondRequest = () => {
    let requests = 0
    return (line: JournalLine) => line.kind === 'sending' && ++requests === 2
  }
  it.each([
    ['before the first value is sent', (line: JournalLine) => line.kind === 'sending', 'writing', 'nothing-written'],
    ['between two requests', isSecondRequest(), 'writing', 'restored'],
    ['before saving', (line: JournalLine) => line.kind === 'step' && line.step === 'saving', 'saving', 'restored'],
  ] as const)('%s stops the write, and the old values are held', async (_when, fills, during, end) => {
    const { disk, room } = fillingDisk(fills)
    practice = await startPracticeHost({ disk })
    const before = practice.bench.settings(indicatorId)
    const why = 'The disk is full.'
    expect(await write()).toMatchObject({ ok: false, failure: { because: { kind: 'journal-not-kept', why }, during, end } })
    expect([practice.bench.settings(indicatorId), practice.bench.saved(indicatorId)]).toEqual([before, before])
    // Its journal could not be ended either: nothing else is written before that is settled.
    expect(view()).toMatchObject({ writing: null, openWrite: { by: 'A. Tester' } })
    room()
    const journalId = view()?.openWrite?.journalId ?? ''
    value(await practice.host.call('journal.resolve', { indicatorId, journalId, how: 'leave' }))
    expect(await write()).toMatchObject({ ok: true })
  })

  it('when all is written and saved is said so, with what is held; the write is then completed', async () => {
    const { disk, room } = fillingDisk((line) => line.kind === 'end')
    practice = await startPracticeHost({ disk })
    expect(await write()).toMatchObject({
      ok: false,
      failure: {
        because: { kind: 'journal-not-kept' },
        end: 'not-restored',
        parameters: [
          { key: 'filter.time@1', now: { value: '0.50' } },
          { key: 'reading.interval@1', now: { value: '0.5' } },
        ],
      },
    })
    const journalId = view()?.openWrite?.journalId ?? ''
    const resolve = () => practice.host.call('journal.resolve', { indicatorId, journalId, how: 'leave' })
    expect(await resolve()).toMatchObject({
      ok: false,
      failure: { why: expect.stringMatching(/could not be ended: The disk is full.*Make room/) },
    })
    expect(view()?.openWrite?.journalId).toBe(journalId)
    room()
    value(await resolve())
    expect(view()?.openWrite).toBeNull()
    expect(practice.bench.saved(indicatorId)['filter.time@1']).toEqual([50])
  })

  it.runIf(existsSync('/dev/full'))('for the log of writes takes nothing from a write, and is said of a command', async () => {
    practice = await startPracticeHost()
    const log = join(dirname(practice.jobPath), 'practice.job', 'log.jsonl')
    symlinkSync('/dev/full', log)
    expect(await write()).toMatchObject({ ok: true, value: { saved: true } })
    expect(view()).toMatchObject({ writing: null, openWrite: null, lastWrite: { ok: true } })
    const zeroed = await practice.host.call('indicator.command', { pointId, command: 'clear-tare' })
    expect(zeroed).toMatchObject({ ok: false, failure: { why: expect.stringMatching(/It was done, but the log .*disk is full/) } })
    rmSync(log)
    // The write stands in its journal, and the log is told from that.
    const { entries } = value(await practice.host.call('log.read', {}))
    expect(entries).toMatchObject([{ kind: 'write', result: 'written', values: [{ key: 'filter.time@1', new: '0.50' }, {}] }])
  })

  it.runIf(existsSync('/dev/full'))('keeps the reading of a check from being lost unseen', async () => {
    practice = await startPracticeHost()
    const { id: checkId } = value(await practice.host.call('check.start', { pointId, when: 'as-found' }))
    symlinkSync('/dev/full', `${practice.jobPath}.next`)
    const capture = () => practice.host.call('check.capture', { checkId, load: '0', typed: '0.2' })
    expect(await capture()).toMatchObject({ ok: false, failure: { why: expect.stringMatching(/^Not saved: The disk is full/) } })
    expect(value(await capture()).steps).toHaveLength(1)
    await practice.host.close()
    practice.host = openHostOn(practice.bench, practice.jobPath)
    expect(practice.host.topics.get('job')?.visits[0]?.checks).toMatchObject([{ id: checkId, steps: [{ reading: '0.2' }] }])
  })
})
