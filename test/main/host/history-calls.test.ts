import { existsSync, readdirSync, symlinkSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Job } from '../../../app/job/schema.ts'
import { readJob } from '../../../main/files/job-store.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'
import { kilograms, makePoint, mvPerV } from '../../builders/weighing-point.ts'

let practice: PracticeHost
beforeEach(async () => {
  practice = await startPracticeHost({ start: false })
})
afterEach(() => practice.close())

const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const job = (): Job => practice.host.topics.get('job')!
const revision = () => job().revision
const point = (tag = 'WT-101') => job().points.find((p) => p.tag === tag)
const undo = () => call('job.undo', { revision: revision() })
const redo = () => call('job.redo', { revision: revision() })
const offered = () => {
  const session = practice.host.topics.get('session')
  return [session?.undo, session?.redo]
}
const refused = (why: string) => ({ ok: false, failure: { kind: 'refused-request', why: expect.stringContaining(why) } })
const rated = (ratedOutput: string) => {
  const { sensors } = point()!
  const [first, ...rest] = sensors.certificates
  return { sensors: { ...sensors, certificates: [{ ...first!, ratedOutput: mvPerV(ratedOutput) }, ...rest] } }
}
const edit = (change: object) => call('point.edit', { pointId: 'wt-101', revision: revision(), change })
const { id: _id, intended: _intended, ...fields } = makePoint({ tag: 'WT-900' })

describe('undo and redo', () => {
  it('takes edits back one by one, names each in words, and does them again', async () => {
    const untouched = { ...job(), revision: 0 }
    value(await edit(rated('2.0050')))
    expect(offered()).toEqual(['Rated output of WT-101', null])
    value(await edit({ maximumLoad: '900', loadPath: { sharePercent: '50', deadLoad: kilograms('150') } }))
    value(await call('job.edit', { revision: revision(), change: { site: 'North' } }))
    value(await call('point.add', { revision: revision(), point: fields }))
    expect(offered()).toEqual(['Measuring point WT-900 added', null])
    const edited = job()

    const labels = []
    for (let n = 0; n < 4; n++) labels.push(value(await undo()).label)
    expect(labels).toEqual([
      'Measuring point WT-900 added',
      'Site of the job',
      'Maximum load of WT-101, and 2 more',
      'Rated output of WT-101',
    ])
    expect({ ...job(), revision: 0 }).toEqual(untouched)
    expect(practice.host.topics.get('live', edited.points.at(-1)!.id)).toBeUndefined()
    expect(await undo()).toMatchObject(refused('nothing to undo'))
    expect(offered()).toEqual([null, 'Rated output of WT-101'])

    for (let n = 0; n < 4; n++) value(await redo())
    expect({ ...job(), revision: 0 }).toEqual({ ...edited, revision: 0 })
    expect(practice.host.topics.get('live', edited.points.at(-1)!.id)).toEqual({ state: 'never-read' })
    expect(value(readJob(practice.jobPath))).toEqual(job())
  })

  it('tells whose indicator keeps what is taken back: that which was written, and nothing that was only intended', async () => {
    value(await call('visit.start', { by: 'A. Tester' }))
    value(await call('bus.open', { busId: 'bus-1' }))
    const intend = async (time: string) =>
      value(await call('point.intend', { pointId: 'wt-101', revision: revision(), values: { 'filter.time@1': time } }))
    await intend('0.50')
    const { previewId } = value(await call('settings.preview', { indicatorId: 'ind-1' }))
    value(await call('settings.write', { previewId }))
    value(await edit({ name: 'A' }))
    expect(value(await undo())).toMatchObject({ label: 'Name of WT-101', keeps: [] })
    await intend('0.90')
    expect(value(await undo())).toMatchObject({ label: 'Intended values of WT-101', keeps: [] })
    expect(value(await undo())).toMatchObject({ keeps: ['WT-101'] })
    expect(practice.bench.settings('ind-1')['filter.time@1']).toEqual([50])
    expect(value(await redo()).keeps).toEqual([])
    expect(value(await redo()).keeps).toEqual(['WT-101'])
  })

  it('refuses a stale one, and forgets what was undone once another edit is made', async () => {
    value(await edit({ name: 'A' }))
    expect(await call('job.undo', { revision: revision() - 1 })).toMatchObject({ ok: false, failure: { kind: 'stale' } })
    value(await undo())
    expect(await call('job.redo', { revision: revision() - 1 })).toMatchObject({ ok: false, failure: { kind: 'stale' } })
    value(await edit({ name: 'B' }))
    expect(offered()).toEqual(['Name of WT-101', null])
    expect(await redo()).toMatchObject(refused('nothing to redo'))
  })

  it('leaves visits, checks and broken seals alone', async () => {
    value(await edit({ name: 'Before' }))
    const sealed = { seals: 'S-1', broken: { by: 'A. Tester', reason: 'new cell' } }
    value(await call('indicator.edit', { revision: revision(), indicatorId: 'ind-1', change: { name: 'Panel', sealed } }))
    value(await call('visit.start', { by: 'A. Tester' }))
    const check = value(await call('check.start', { pointId: 'wt-102', when: 'as-found' }))
    value(await call('check.capture', { checkId: check.id, load: '0', typed: '0.2' }))

    value(await undo())
    expect(job().indicators[0]).toMatchObject({ name: 'Hopper A transmitter', sealed: { seals: 'S-1', broken: { reason: 'new cell' } } })
    value(await undo())
    expect(point()?.name).toBe('Batch hopper A')
    expect(job().visits[0]?.checks).toMatchObject([{ id: check.id, steps: [{ reading: '0.2' }] }])
  })

  it('does not take away what is in use or stands in evidence', async () => {
    const { link } = job().buses[0]!
    value(await call('bus.edit', { revision: revision(), busId: 'bus-1', change: { link: { ...link, bus: 'line-9' } as typeof link } }))
    const added = value(await call('bus.add', { revision: revision(), bus: { name: 'New', link } }))
    value(await call('bus.open', { busId: added.id }))
    expect(await undo()).toMatchObject(refused('New is open'))
    expect(offered()).toEqual(['Bus New added', null])
    value(await call('bus.close', { busId: added.id }))
    value(await undo())
    expect(practice.host.topics.get('bus', added.id)).toBeUndefined()

    value(await call('visit.start', { by: 'A. Tester' }))
    const made = value(await call('point.add', { revision: revision(), point: fields }))
    value(await call('check.start', { pointId: made.id, when: 'as-found' }))
    expect(await undo()).toMatchObject(refused('WT-900 has checks'))
    expect(point('WT-900')).toBeDefined()
  })

  it('another address taken back is the former unit, to be identified again', async () => {
    value(await call('bus.open', { busId: 'bus-1' }))
    value(await call('indicator.edit', { revision: revision(), indicatorId: 'ind-1', change: { unit: 77 } }))
    expect(offered()[0]).toBe('Address of Hopper A transmitter')
    value(await undo())
    value(await call('indicator.identify', { indicatorId: 'ind-1' }))
    expect(practice.host.topics.get('indicator', 'ind-1')?.identity.outcome).toBe('confirmed')
  })

  it.runIf(existsSync('/dev/full'))('stays where it was when the disk is full', async () => {
    value(await edit({ name: 'A' }))
    symlinkSync('/dev/full', `${practice.jobPath}.next`)
    expect(await undo()).toMatchObject(refused('disk is full'))
    expect(offered()).toEqual(['Name of WT-101', null])
    value(await undo())
    expect(point()?.name).toBe('Batch hopper A')
  })
})

describe('earlier versions', () => {
  const versions = async () => value(await call('job.versions', {})).versions
  const earlier = () => join(dirname(practice.jobPath), 'practice.job', 'earlier')

  it('one is brought back, the present state is kept first, and what happened since stays', async () => {
    value(await edit({ name: 'Renamed' }))
    const [first] = await versions()
    expect(first).toMatchObject({ revision: 0, points: 5, changes: 'Name of WT-101' })

    value(await call('visit.start', { by: 'A. Tester' }))
    const made = value(await call('point.add', { revision: revision(), point: fields }))
    const check = value(await call('check.start', { pointId: made.id, when: 'as-found' }))
    value(await call('indicator.edit', { revision: revision(), indicatorId: 'ind-1', change: { unit: 9 } }))
    const before = job()

    const stale = await call('job.bring-back', { revision: 0, version: first!.version })
    expect(stale).toMatchObject({ ok: false, failure: { kind: 'stale' } })
    const { keptAs } = value(await call('job.bring-back', { revision: revision(), version: first!.version }))

    expect(point()?.name).toBe('Batch hopper A')
    expect(job().visits).toEqual(before.visits)
    expect(job().visits[0]?.checks).toMatchObject([{ id: check.id }])
    expect(point('WT-900')).toMatchObject({ id: made.id })
    expect(job().indicators[0]?.unit).toBe(9)
    expect(value(readJob(join(earlier(), `${keptAs}.job.json`)))).toEqual(before)
    expect((await versions()).map((v) => v.version)).toContain(keptAs)

    expect(offered()[0]).toContain('brought back')
    value(await undo())
    expect(point()?.name).toBe('Renamed')
  })

  it('a truncated one is listed with the reason and refused; so is one of another job, and a name that is none', async () => {
    value(await edit({ name: 'Renamed' }))
    writeFileSync(join(earlier(), '20240101120000.job.json'), '{"schema": 1, "na')
    writeFileSync(join(earlier(), '2024010113.job.json'), JSON.stringify({ ...job(), id: 'other' }))
    writeFileSync(join(earlier(), 'notes.txt'), 'x')
    const listed = await versions()
    expect(listed.slice(1)).toMatchObject([
      { version: '2024010113', keptAt: '2024-01-01T13:00:00Z' },
      { version: '20240101120000', keptAt: '2024-01-01T12:00:00Z', why: expect.stringContaining('not whole JSON') },
    ])
    const bring = (version: string) => call('job.bring-back', { revision: revision(), version })
    expect(await bring('20240101120000')).toMatchObject(refused('not whole JSON'))
    expect(await bring('2024010113')).toMatchObject(refused('another job'))
    expect(await bring('../../practice')).toMatchObject(refused('no earlier version'))
    expect(point()?.name).toBe('Renamed')
  })

  it.runIf(existsSync('/dev/full'))('changes nothing when the present state cannot be kept', async () => {
    value(await edit({ name: 'Renamed' }))
    const [first] = await versions()
    // Whichever second it will be kept under.
    for (let s = 0; s < 60; s++) {
      const second = new Date(Date.now() + s * 1000)
        .toISOString()
        .replace(/[^0-9]/g, '')
        .slice(0, 14)
      symlinkSync('/dev/full', join(earlier(), `${second}.job.json.next`))
    }
    expect(await call('job.bring-back', { revision: revision(), version: first!.version })).toMatchObject(refused('disk is full'))
    expect(point()?.name).toBe('Renamed')
    expect(readdirSync(earlier()).filter((name) => name.endsWith('.job.json'))).toEqual([`${first!.version}.job.json`])
  })
})
