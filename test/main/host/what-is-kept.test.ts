import { afterEach, describe, expect, it } from 'vitest'
import type { LogEntry } from '../../../app/contract/log-calls.ts'
import type { Job } from '../../../app/job/schema.ts'
import { type Profile, profile as profileSchema, type Register } from '../../../app/profile/schema.ts'
import { handoverSheet } from '../../../main/report/handover-sheet.ts'
import { busProfile, type LineHost, startLineHost } from '../../builders/line-host.ts'
import { value } from '../../builders/practice-host.ts'

const filter = 'filter.cutoff@1'
const interval = 'reading.decimals@1'
const indicatorId = 'a'

let line: LineHost
afterEach(() => line.close())

/** The model of the bench, with the filter kept in this way and a save procedure or none. */
const keeping = (kept: Register['kept'], saves: boolean): Profile => {
  const { save, ...others } = busProfile.procedures
  return profileSchema.parse({
    ...busProfile,
    registers: busProfile.registers.map((r) => (r.name === 'filter.cutoff' ? { ...r, kept } : r)),
    procedures: saves ? { ...others, save } : others,
  })
}

/** Writes a filter, tells what was said on the way, and what stands in the indicator after a power cut. */
async function writeFilter(kept: Register['kept'], saves: boolean) {
  const profile = keeping(kept, saves)
  line = await startLineHost({
    way: 'modbus-tcp',
    units: [{ key: 'a', unit: 3, serial: 11 }],
    indicators: [{ id: indicatorId, unit: 3 }],
    profile,
  })
  const { host, bench } = line
  const before = bench.settings('a')[filter]
  const revision = host.topics.get('job')?.revision ?? 0
  value(await host.call('point.intend', { pointId: 'p-a', revision, values: { [filter]: '1 Hz' } }))
  const preview = value(await host.call('settings.preview', { indicatorId }))
  const receipt = value(await host.call('settings.write', { previewId: preview.previewId }))
  const { entries } = value(await host.call('log.read', { indicatorId }))
  const job = host.topics.get('job') as Job
  const sheet = handoverSheet(job, job.points[0]!, new Map([[profile.id, profile]]), null, {
    at: '2026-05-04T10:00:00Z',
    zone: 'Europe/Madrid',
  })
  const written = bench.settings('a')[filter]
  bench.powerCycle('a')
  const survived = String(bench.settings('a')[filter]) === String(written) && String(written) !== String(before)
  return { preview, receipt, entry: entries[0] as LogEntry, sheet, survived }
}

const notSaved = /^Will not be saved in the indicator: Filter cut-off\. A power cut brings the old value back;/

describe('what a power cut takes back', () => {
  it.each([
    ['kept at once, nothing to save with', 'at-once', false],
    ['kept after a save that is known', 'after-save', true],
  ] as const)('nothing of what is %s: it survives, and nobody says otherwise', async (_, kept, saves) => {
    const { preview, receipt, entry, sheet, survived } = await writeFilter(kept, saves)
    expect(survived).toBe(true)
    expect(preview).toMatchObject({ unsaved: [], procedure: { saves } })
    expect(preview.cautions.join()).not.toContain('saved in the indicator')
    expect(receipt).toMatchObject({ saved: saves, unsaved: [] })
    expect(entry).toMatchObject({ result: 'written', unsaved: [] })
    expect(sheet).not.toContain('ot saved')
  })

  it.each([
    ['kept after a save that nobody described', 'after-save', false],
    ['never kept, although the rest is saved', 'never', true],
  ] as const)('what is %s: said beforehand, in the result, in the log and on the sheet', async (_, kept, saves) => {
    const { preview, receipt, entry, sheet, survived } = await writeFilter(kept, saves)
    expect(survived).toBe(false)
    expect(preview.unsaved).toEqual([filter])
    expect(preview.cautions).toContainEqual(expect.stringMatching(notSaved))
    expect(receipt).toMatchObject({ saved: saves, unsaved: [filter] })
    expect(entry).toMatchObject({ result: 'written', unsaved: [filter] })
    expect(sheet).toContain('changed, not saved')
    expect(sheet).toContain('Not saved in the indicator: Filter cut-off.')
  })

  it('only what is written is told: another setting of the same indicator is saved', async () => {
    await writeFilter('never', true)
    const { host } = line
    const revision = host.topics.get('job')?.revision ?? 0
    value(await host.call('point.intend', { pointId: 'p-a', revision, values: { [filter]: null, [interval]: '2' } }))
    expect(value(await host.call('settings.preview', { indicatorId }))).toMatchObject({ unsaved: [], writes: [{ key: interval }] })
  })
})
