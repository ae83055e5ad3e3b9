import { mkdirSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { readJob } from '../../../main/files/job-store.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

let practice: PracticeHost
beforeEach(async () => {
  practice = await startPracticeHost({ start: false })
})
afterEach(() => practice.close())

const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const now = () => practice.host.topics.get('job')!
const revision = () => now().revision
const seal = (id = 'ind-1') => now().indicators.find((i) => i.id === id)?.sealed
type Sealed = { seals: string; broken?: { by: string; reason: string } } | null
const edit = (sealed: Sealed) => call('indicator.edit', { revision: revision(), indicatorId: 'ind-1', change: { sealed } })
const breakIt = (seals: string) => edit({ seals, broken: { by: 'A. Tester', reason: 'cell 2 replaced' } })
const refused = (why: string) => ({
  ok: false,
  failure: { kind: 'refused-request', why: expect.stringContaining(why), where: 'sealed.seals' },
})
const undo = () => call('job.undo', { revision: revision() })
const redo = () => call('job.redo', { revision: revision() })

describe('seal numbers of an indicator', () => {
  it('are noted for one that is there and for one that is added, and it is commanded no more', async () => {
    value(await edit({ seals: ' S-1; S-2 ' }))
    expect(seal()).toEqual({ seals: 'S-1; S-2' })
    expect(await call('indicator.command', { pointId: 'wt-101', command: 'zero' })).toMatchObject({
      failure: { why: expect.stringContaining('sealed (S-1; S-2)') },
    })
    const added = { name: 'Panel N', busId: 'bus-1', unit: 99, profileId: 'two-pairs-float32-locked', sealed: { seals: 'N-1' } }
    const { id } = value(await call('indicator.add', { revision: revision(), indicator: added }))
    expect(seal(id)).toEqual({ seals: 'N-1' })
    expect(value(readJob(practice.jobPath)).indicators.find((i) => i.id === id)?.sealed).toEqual({ seals: 'N-1' })
  })

  it.each([
    [' ,; ', 'No seal number stands there'],
    ['S-1, S-2 S-1', 'Seal number S-1 stands there twice'],
  ])('are not "%s": %s', async (seals, why) => {
    expect(await edit({ seals })).toMatchObject(refused(why))
    const unit = { name: 'Panel N', busId: 'bus-1', unit: 99, profileId: 'two-pairs-float32-locked', sealed: { seals } }
    expect(await call('indicator.add', { revision: revision(), indicator: unit })).toMatchObject(refused(why))
    expect(seal()).toBeUndefined()
  })

  it('are neither changed nor taken away while the seal holds, and the indicator is not removed', async () => {
    value(await edit({ seals: 'S-1, S-2' }))
    for (const other of [null, { seals: 'S-1' }, { seals: 'S-1, S-2, S-3' }, { seals: 'S-9' }])
      expect(await edit(other)).toMatchObject(refused('is sealed (S-1, S-2). Break the seal with name and reason'))
    for (const { id } of now().points.filter((p) => p.indicatorId === 'ind-1'))
      value(await call('point.remove', { revision: revision(), pointId: id }))
    expect(await call('indicator.remove', { revision: revision(), indicatorId: 'ind-1' })).toMatchObject(refused('Break the seal'))
    value(await edit({ seals: 'S-2 S-1' }))
    value(await breakIt('S-1, S-2'))
    value(await call('indicator.remove', { revision: revision(), indicatorId: 'ind-1' }))
  })

  it('are given anew once the seal was broken, which stays noted', async () => {
    value(await edit({ seals: 'S-1, S-2' }))
    value(await breakIt('S-1, S-2'))
    expect(await edit(null)).toMatchObject(refused('that stays noted'))
    expect(await edit({ seals: 'S-2; S-1' })).toMatchObject(refused('A new seal has another number'))
    const { broken } = seal()!
    value(await edit({ seals: 'S-1, S-3' }))
    const once = [{ seals: 'S-1, S-2', broken }]
    expect(seal()).toEqual({ seals: 'S-1, S-3', earlier: once })
    expect(await edit(null)).toMatchObject(refused('is sealed (S-1, S-3)'))

    value(await breakIt('S-3, S-1'))
    expect(seal()).toMatchObject({ seals: 'S-3, S-1', broken: { by: 'A. Tester' }, earlier: once })
    value(await edit({ seals: 'S-4' }))
    expect(seal()).toMatchObject({ seals: 'S-4', earlier: [...once, { seals: 'S-3, S-1' }] })
  })

  it('undo takes a slip back and redo does it again, but a seal that was broken is not whole again', async () => {
    value(await edit({ seals: 'S-1' }))
    expect(value(await undo()).label).toBe('Seal numbers of Hopper A transmitter')
    expect(seal()).toBeUndefined()
    value(await redo())
    value(await breakIt('S-1'))
    const broken = seal()
    expect(practice.host.topics.get('session')?.undo).toBe('Seal of Hopper A transmitter broken')
    value(await edit({ seals: 'S-2' }))
    const again = seal()
    value(await undo())
    expect(seal()).toEqual(broken)
    value(await redo())
    expect(seal()).toEqual(again)
    value(await undo())
    expect(await undo()).toMatchObject({ ok: false })
    expect(await undo()).toMatchObject({ ok: false })
    expect(seal()).toEqual(broken)
  })

  it('stay where an earlier version is brought back, as does an indicator that was added with some', async () => {
    const earlier = join(dirname(practice.jobPath), 'practice.job', 'earlier')
    mkdirSync(earlier, { recursive: true })
    writeFileSync(join(earlier, '20240101120000.job.json'), JSON.stringify(now()))
    value(await edit({ seals: 'S-1' }))
    const unit = { name: 'Panel N', busId: 'bus-1', unit: 99, profileId: 'two-pairs-float32-locked', sealed: { seals: 'N-1' } }
    const { id } = value(await call('indicator.add', { revision: revision(), indicator: unit }))
    value(await call('job.bring-back', { revision: revision(), version: '20240101120000' }))
    expect([seal(), seal(id)]).toEqual([{ seals: 'S-1' }, { seals: 'N-1' }])
  })
})
