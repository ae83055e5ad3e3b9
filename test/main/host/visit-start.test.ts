import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Host } from '../../../main/host/host.ts'
import { openHostOn, type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

let practice: PracticeHost
let host: Host

beforeEach(async () => {
  practice = await startPracticeHost()
  host = practice.host
})
afterEach(async () => {
  if (host !== practice.host) await host.close()
  await practice.close()
})

const begin = (by: string, resume?: boolean) => host.call('visit.start', { by, ...(resume ? { resume } : {}) })
const visits = () => host.topics.get('job')?.visits ?? []
const beginCheck = async () => value(await host.call('check.start', { pointId: 'wt-101', when: 'as-found' })).id
const take = (checkId: string) => host.call('check.capture', { checkId, load: '0', typed: '0.0' })
async function restart() {
  await host.close()
  host = openHostOn(practice.bench, practice.jobPath)
}

describe('start of a visit', () => {
  it('goes on after a restart where asked to: as found stays, and a check that was running runs on', async () => {
    const checkId = await beginCheck()
    value(await take(checkId))
    const found = visits()[0]?.found
    await restart()
    value(await begin('A. Tester', true))
    await host.start()
    expect(visits()).toHaveLength(1)
    expect(visits()[0]?.found).toEqual(found)
    expect(value(await take(checkId)).steps).toHaveLength(2)
  })

  it('of somebody else is another one, and what was left running in the earlier one does not run in it', async () => {
    const checkId = await beginCheck()
    await restart()
    value(await begin('B. Field', true))
    await host.start()
    expect(visits().map((v) => v.by)).toEqual(['A. Tester', 'B. Field'])
    expect(await take(checkId)).toMatchObject({ ok: false, failure: { why: expect.stringContaining('not one of this visit') } })
    value(await take(await beginCheck()))
    expect(visits().map((v) => v.checks.length)).toEqual([1, 1])
  })

  it('waits for a check that is running, named by its point', async () => {
    const checkId = await beginCheck()
    expect(await begin('B. Field')).toMatchObject({ ok: false, failure: { why: expect.stringContaining('check of WT-101 is running') } })
    value(await take(checkId))
    value(await host.call('check.finish', { checkId }))
    value(await begin('B. Field'))
    expect(visits()).toHaveLength(2)
  })

  it('keeps what is held then as found, though a visit goes before it', async () => {
    const held = host.topics.get('indicator', 'ind-1')?.held
    value(await begin('B. Field'))
    expect(visits()[1]?.found['ind-1']).toEqual(held)
  })
})
