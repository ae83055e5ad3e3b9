import { readFileSync } from 'node:fs'
import { afterEach, describe, expect, it } from 'vitest'
import type { Job } from '../../../app/job/schema.ts'
import { fitting, spanwright, startCommand } from '../../builders/command-line.ts'
import { killedWhileMoving } from '../../builders/killed-mover.ts'
import { busProfile, type LineHost, startLineHost } from '../../builders/line-host.ts'

let line: LineHost
afterEach(() => line.bench.close())

const job = () => ['--job', line.jobPath]
const by = ['--by', 'A. Tester', '--yes']
const units = () => (JSON.parse(readFileSync(line.jobPath, 'utf8')) as Job).indicators.map((i) => i.unit)

/** The job is closed again: the command is to open it. */
async function start(options: Omit<Parameters<typeof startLineHost>[0], 'way'>) {
  line = await startLineHost({ way: 'rtu-over-tcp', ...options })
  await line.host.close()
}

/** New units at address 1 without power; the job says where they belong. */
const startNew = () =>
  start({
    units: [11, 12].map((serial) => ({ key: `new-${serial}`, unit: 1, serial, on: false })),
    indicators: [5, 6].map((unit) => ({ id: `ind-${unit}`, unit })),
  })

describe('one indicator', { timeout: 60_000 }, () => {
  it('is shown its new address by a dry run, and is given it only with a yes', async () => {
    await start({ units: [{ key: 'a', unit: 3, serial: 1001 }], indicators: [{ id: 'ind-1', unit: 3 }] })
    const dry = await spanwright('set-address', ...job(), '--to', '7', '--dry-run', '--json')
    expect(dry.code).toBe(0)
    expect(fitting('set-address', dry.out)).toMatchObject({
      wrote: false,
      preview: { writes: [{ key: 'bus.address', held: '3', intended: '7' }] },
    })
    expect((await spanwright('set-address', ...job(), '--to', '7', '--by', 'A. Tester')).code).toBe(4)
    expect(line.bench.requests('a').log.some((r) => r.kind === 'write')).toBe(false)

    const given = await spanwright('set-address', ...job(), '--to', '7', ...by, '--json')
    expect(given.code).toBe(0)
    expect(fitting('set-address', given.out)).toMatchObject({ wrote: true, receipt: { moved: { from: { unit: 3 }, to: { unit: 7 } } } })
    expect([line.bench.saved('a')['bus.address'], units()]).toEqual([[7], [7]])
  })

  it('whose host was killed on the way is found at its new address, and the write is ended there', async () => {
    line = await killedWhileMoving('reading-all', 1)
    const ended = await spanwright('settings', 'resolve', ...job(), '--how', 'complete', '--by', 'A. Tester', '--json')
    expect(ended.code).toBe(0)
    expect(fitting('settings-resolve', ended.out)).toMatchObject({ ok: true, how: 'complete' })
    expect([line.bench.saved('a')['bus.address'], units()]).toEqual([[7], [7]])
  })

  it('whose host was killed on the way, and that cannot be told, shows what to compare with its panel where it answers now', async () => {
    line = await killedWhileMoving('reading-all', 1, { ...busProfile, id: 'untold', identity: { ...busProfile.identity, tests: [] } })
    const complete = ['settings', 'resolve', ...job(), '--how', 'complete', '--by', 'A. Tester']
    const asked = await spanwright(...complete)
    expect(asked.code).toBe(4)
    expect(asked.err).toMatch(/cannot be told\. Compare with its front panel:\n {2}identity\.serial +1001/)
    expect(units()).toEqual([3])
    const ended = await spanwright(...complete, '--panel-agrees')
    expect(ended.code).toBe(0)
    expect([line.bench.saved('a')['bus.address'], units()]).toEqual([[7], [7]])
  })

  it('is not asked for where the command line does not say what is meant', async () => {
    await start({ units: [{ key: 'a', unit: 3, serial: 1001 }], indicators: [{ id: 'ind-1', unit: 3 }] })
    const ends = [
      await spanwright('set-address', ...job()),
      await spanwright('set-address', ...job(), '--to', '248', ...by),
      await spanwright('set-address', ...job(), '--to', '7', '--at', '1', ...by),
      await spanwright('set-address', ...job(), '--one-by-one', 'ind-9', ...by),
    ]
    expect(ends.map((e) => e.code)).toEqual([2, 2, 2, 2])
    expect(ends[3]?.err).toContain('ind-1 (IND-1)')
    expect(line.bench.requests('a').log.some((r) => r.kind === 'write')).toBe(false)
  })
})

describe('new units one by one', { timeout: 90_000 }, () => {
  it('are waited for and given theirs; what is at its address already is left as it is', async () => {
    await startNew()
    const started = startCommand('set-address', ...job(), '--one-by-one', ...by, '--json')
    await started.said('that is to become IND-5')
    line.bench.power('new-11', true)
    await started.said('that is to become IND-6')
    line.bench.power('new-12', true)
    const { code, out } = await started.ended
    expect(code).toBe(0)
    expect(fitting('set-address-one-by-one', out)).toMatchObject({
      complete: true,
      outcomes: [
        { how: 'given', indicator: { id: 'ind-5', unit: 5 }, receipt: { saved: true }, answersAtOld: 'nobody' },
        { how: 'given', indicator: { id: 'ind-6', unit: 6 } },
      ],
      remaining: [],
    })
    expect(['new-11', 'new-12'].map((key) => line.bench.saved(key)['bus.address'])).toEqual([[5], [6]])

    const again = await spanwright('set-address', ...job(), '--one-by-one', ...by, '--json')
    expect(fitting('set-address-one-by-one', again.out)).toMatchObject({ complete: true, outcomes: [{ how: 'left' }, { how: 'left' }] })
  })

  it('end on Ctrl-C while waiting, and it is said what was given and what was not', async () => {
    await startNew()
    const started = startCommand('set-address', ...job(), '--one-by-one', ...by, '--json')
    await started.said('that is to become IND-5')
    line.bench.power('new-11', true)
    await started.said('that is to become IND-6')
    started.child.kill('SIGINT')
    const { code, out } = await started.ended
    expect(code).toBe(130)
    expect(fitting('set-address-one-by-one', out)).toMatchObject({
      complete: false,
      outcomes: [{ how: 'given', indicator: { id: 'ind-5' } }],
      remaining: [{ id: 'ind-6', unit: 6 }],
    })
    expect(line.bench.saved('new-12')['bus.address']).toEqual([1])
  })

  it('on Ctrl-C while one is being given its address, that is finished first', async () => {
    await startNew()
    const started = startCommand('set-address', ...job(), '--one-by-one', ...by, '--json')
    await started.said('that is to become IND-5')
    line.bench.inject('new-11', { kind: 'late', byMs: 100, times: 1000 })
    line.bench.power('new-11', true)
    await started.said('Found. It is given address 5')
    started.child.kill('SIGINT')
    await started.said('It is being given its address: that is finished, or taken back, before this ends.')
    const { code, out } = await started.ended
    expect(code).toBe(130)
    expect(fitting('set-address-one-by-one', out)).toMatchObject({
      complete: false,
      outcomes: [{ how: 'given', indicator: { id: 'ind-5' } }],
      remaining: [{ id: 'ind-6' }],
    })
    expect([line.bench.saved('new-11')['bus.address'], units()]).toEqual([[5], [5, 6]])
  })

  it('that answer unsoundly, as two at once do, get none until only one is left', async () => {
    await startNew()
    const started = startCommand('set-address', ...job(), '--one-by-one', 'ind-6', ...by, '--json')
    await started.said('that is to become IND-6')
    line.bench.inject('new-11', { kind: 'wrong-crc', times: 1000 })
    line.bench.power('new-11', true)
    await started.said('two new units may be on the line at once. Leave one of them connected.')
    expect(line.bench.requests('new-11').log.some((r) => r.kind === 'write')).toBe(false)
    line.bench.clearFaults('new-11')
    const { code, out } = await started.ended
    expect(code).toBe(0)
    expect(fitting('set-address-one-by-one', out)).toMatchObject({
      outcomes: [{ how: 'given', indicator: { id: 'ind-6' } }],
      remaining: [],
    })
    expect(line.bench.saved('new-11')['bus.address']).toEqual([6])
  })

  it('are looked for where they are said to be', async () => {
    await start({ units: [{ key: 'new', unit: 44, serial: 7 }], indicators: [{ id: 'ind-5', unit: 5 }] })
    const dry = await spanwright('set-address', ...job(), '--one-by-one', '--at', '44', '--dry-run', '--json')
    expect(fitting('set-address-one-by-one', dry.out)).toMatchObject({ complete: false, outcomes: [], remaining: [{ id: 'ind-5' }] })
    const { code, err, out } = await spanwright('set-address', ...job(), '--one-by-one', '--at', '44', ...by, '--json')
    expect(code).toBe(0)
    expect(err).toContain('It is looked for at address 44.')
    expect(fitting('set-address-one-by-one', out)).toMatchObject({ outcomes: [{ how: 'given', answersAtOld: 'nobody' }] })
    expect([line.bench.saved('new')['bus.address'], units()]).toEqual([[5], [5]])
  })
})
