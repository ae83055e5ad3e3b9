import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readJob } from '../../../main/files/job-store.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

describe('points.import', () => {
  let practice: PracticeHost
  beforeAll(async () => {
    const job = practiceJob()
    practice = await startPracticeHost({ start: false, job: { ...job, points: job.points.slice(0, 1) } })
  })
  afterAll(() => practice.close())

  const sheet = 'Tag;Max load;Interval\nWT-201;500 kg;0,1\nWT-202;nonsense;0,1\n'
  const revision = () => practice.host.topics.get('job')?.revision ?? -1
  const ask = (change: object) =>
    practice.host.call('points.import', { revision: revision(), from: { sheet }, dryRun: false, partly: false, ...change })

  it('a dry run tells what it would add and adds nothing', async () => {
    const found = value(await ask({ dryRun: true, partly: true }))
    expect(found).toMatchObject({ added: false, points: [{ tag: 'WT-201' }], errors: [{ row: 3, column: 'Max load' }] })
    expect(practice.host.topics.get('job')?.points).toHaveLength(1)
  })

  it('one wrong row keeps all out', async () => {
    expect(value(await ask({})).added).toBe(false)
    expect(practice.host.topics.get('job')?.points).toHaveLength(1)
  })

  it('a stale revision is refused with what is held now', async () => {
    expect(await ask({ revision: 99 })).toMatchObject({ ok: false, failure: { kind: 'stale', revision: revision() } })
  })

  it('the sound rows are added where asked, saved, and known to the host', async () => {
    const done = value(await ask({ partly: true }))
    expect(done).toMatchObject({ added: true, revision: 1 })
    expect(readJob(practice.jobPath)).toMatchObject({ ok: true, value: { points: [{ tag: 'WT-101' }, { tag: 'WT-201' }] } })
    expect(practice.host.topics.get('live', done.points[0]?.id)).toEqual({ state: 'never-read' })
  })

  it('from a template', async () => {
    const from = { template: { pointId: 'wt-101', tagPattern: 'WT-3##', firstNumber: 1, count: 3 } }
    expect(value(await ask({ from })).points.map((p) => p.tag)).toEqual(['WT-301', 'WT-302', 'WT-303'])
  })

  it('what is no sheet is an error of the import, not of the host', async () => {
    expect(value(await ask({ from: { sheet: 'Tag,"Max' } }))).toMatchObject({ added: false, errors: [{ column: '' }] })
    expect(await practice.host.callUntrusted('points.import', { revision: 1, from: { sheet: 5 } })).toMatchObject({ ok: false })
  })
})
