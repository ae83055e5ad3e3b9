import { readFileSync } from 'node:fs'
import { describe, it, type TestContext } from 'vitest'
import type { Job } from '../../../app/job/schema.ts'
import { openLineHost, startLineHost } from '../../builders/line-host.ts'
import { value } from '../../builders/practice-host.ts'
import { topicSeen } from '../../builders/topic-seen.ts'

/** Three units as they come from the factory, all at address 1, none of them powered; the job says where they belong. */
async function start({ onTestFinished }: TestContext) {
  const line = await startLineHost({
    way: 'rtu-over-tcp',
    units: [11, 12, 13].map((serial) => ({ key: `new-${serial}`, unit: 1, serial, on: false })),
    indicators: [5, 6, 7].map((unit) => ({ id: `ind-${unit}`, unit })),
  })
  onTestFinished(() => line.close())
  const look = async (indicatorId: string) => value(await line.host.call('address.look', { indicatorId }))
  return { line, look }
}

// Most of it is silence that is waited out.
describe.concurrent('new units', { timeout: 60_000 }, () => {
  it('get their addresses one after another as they are powered, and are followed there', async (test) => {
    const { expect } = test
    const { line, look } = await start(test)
    expect(await look('ind-5')).toMatchObject({ at: 1, to: 5, answers: 'nobody', lookId: null })
    for (const [i, unit] of [5, 6, 7].entries()) {
      line.bench.power(`new-${11 + i}`, true)
      const found = await look(`ind-${unit}`)
      expect(found).toMatchObject({ at: 1, to: unit, answers: 'one', identity: { outcome: 'confirmed' } })
      const given = value(await line.host.call('address.give', { lookId: found.lookId ?? '', agreesWithPanel: false }))
      expect(given).toMatchObject({ answersAtOld: 'nobody', receipt: { saved: true, moved: { from: { unit: 1 }, to: { unit } } } })
      expect(line.bench.saved(`new-${11 + i}`)['bus.address']).toEqual([unit])
    }
    for (const unit of [5, 6, 7]) value(await line.host.call('settings.read', { indicatorId: `ind-${unit}` }))
    const job = JSON.parse(readFileSync(line.jobPath, 'utf8')) as Job
    expect(job.indicators.map((i) => i.unit)).toEqual([5, 6, 7])
  })

  it('get none that somebody has, and a look is good for one unit only', async (test) => {
    const { expect } = test
    const { line, look } = await start(test)
    line.bench.power('new-11', true)
    const first = await look('ind-5')
    value(await line.host.call('address.give', { lookId: first.lookId ?? '', agreesWithPanel: false }))
    line.bench.power('new-12', true)
    const again = await look('ind-5')
    expect(await line.host.call('address.give', { lookId: again.lookId ?? '', agreesWithPanel: false })).toMatchObject({
      ok: false,
      failure: { kind: 'not-allowed', why: expect.stringContaining('Something answers at address 5 already') },
    })
    const stale = await look('ind-6')
    line.bench.power('new-12', false)
    line.bench.power('new-13', true)
    expect(await line.host.call('address.give', { lookId: stale.lookId ?? '', agreesWithPanel: false })).toMatchObject({
      ok: false,
      failure: { kind: 'not-allowed', why: expect.stringContaining('Look again') },
    })
  })

  it('that answer unsoundly, as two at once do, are said to be so and get nothing', async (test) => {
    const { expect } = test
    const { line, look } = await start(test)
    line.bench.power('new-11', true)
    line.bench.inject('new-11', { kind: 'wrong-crc', times: 100 })
    expect(await look('ind-5')).toMatchObject({ answers: 'unclear', lookId: null, advice: expect.stringContaining('two new units') })
  })

  it('that do not tell the same of themselves each time, as two do of which now one and now the other is heard, get nothing', async (test) => {
    const { expect } = test
    const { line, look } = await start(test)
    line.bench.power('new-11', true)
    const before = line.bench.requests('new-11').count
    const looking = look('ind-5')
    // The first look is one request, answered as it is heard; before the next one the other unit is heard instead.
    while (line.bench.requests('new-11').count === before) await new Promise(setImmediate)
    line.bench.power('new-11', false)
    line.bench.power('new-12', true)
    expect(await looking).toMatchObject({ answers: 'unclear', lookId: null, advice: expect.stringContaining('not always alike') })
    expect(line.bench.requests('new-12').log).not.toContainEqual(expect.objectContaining({ kind: 'write' }))
  })

  it('get none before it was said who is at the machine', async (test) => {
    const { expect } = test
    const { line } = await start(test)
    await line.host.close()
    line.host = openLineHost(line.jobPath, line.bench)
    value(await line.host.call('bus.open', { busId: 'bus-1' }))
    line.bench.power('new-11', true)
    const { lookId } = value(await line.host.call('address.look', { indicatorId: 'ind-5' }))
    const give = () => line.host.call('address.give', { lookId: lookId ?? '', agreesWithPanel: false })
    expect(await give()).toMatchObject({
      ok: false,
      failure: { kind: 'not-allowed', why: expect.stringContaining('who is at the machine') },
    })
    expect(line.bench.saved('new-11')['bus.address']).toEqual([1])
    value(await line.host.call('visit.start', { by: 'A. Tester' }))
    // The look is still good: nothing was given.
    expect(value(await give())).toMatchObject({ receipt: { moved: { to: { unit: 5 } } } })
  })

  it('an indicator in service is shown its new address first, then given it', async (test) => {
    const { expect } = test
    const { line, look } = await start(test)
    line.bench.power('new-11', true)
    value(await line.host.call('address.give', { lookId: (await look('ind-5')).lookId ?? '', agreesWithPanel: false }))
    expect(await line.host.call('address.preview', { indicatorId: 'ind-5', address: 6 })).toMatchObject({
      ok: false,
      failure: { why: expect.stringContaining('IND-6 has address 6') },
    })
    const preview = value(await line.host.call('address.preview', { indicatorId: 'ind-5', address: 20 }))
    expect(preview.writes).toEqual([{ key: 'bus.address', held: '5', intended: '20' }])
    expect(await line.host.call('settings.write', { previewId: preview.previewId })).toMatchObject({
      ok: true,
      value: { moved: { to: { unit: 20 } } },
    })
  })

  it('are not looked for where an indicator of the job answers, nor for one that is to stay there', async (test) => {
    const { expect } = test
    const line = await startLineHost({
      way: 'rtu-over-tcp',
      units: [{ key: 'old', unit: 1, serial: 1 }],
      indicators: [
        { id: 'ind-1', unit: 1 },
        { id: 'ind-5', unit: 5 },
      ],
    })
    test.onTestFinished(() => line.close())
    const look = (indicatorId: string, at?: number) => line.host.call('address.look', { indicatorId, ...(at ? { at } : {}) })
    const why = (text: string) => ({ ok: false, failure: { kind: 'refused-request', why: expect.stringContaining(text) } })
    expect(await look('ind-1')).toMatchObject(why('IND-1 is to have address 1, where the new units are: connect it last'))
    value(await line.host.call('indicator.identify', { indicatorId: 'ind-1' }))
    expect(await look('ind-5')).toMatchObject(why('IND-1 has address 1 and answers there: it is not new'))
    expect(await look('ind-5', 44)).toMatchObject({ ok: true, value: { answers: 'nobody' } })
    expect(await line.host.call('address.give', { lookId: 'look-none', agreesWithPanel: false })).toMatchObject({
      ok: false,
      failure: { why: expect.stringContaining('Look again') },
    })
  })

  it('that come on the line while another is given its address are told of', async (test) => {
    const { expect } = test
    const { line, look } = await start(test)
    line.bench.power('new-11', true)
    const { lookId } = await look('ind-5')
    const followed = topicSeen(line.host, 'indicator', 'ind-5', (v) => v.writing?.step === 'reading-all').then(() =>
      line.bench.power('new-12', true),
    )
    const given = value(await line.host.call('address.give', { lookId: lookId ?? '', agreesWithPanel: false }))
    await followed
    expect(given).toMatchObject({ answersAtOld: 'one', receipt: { moved: { to: { unit: 5 } } } })
  })
})
