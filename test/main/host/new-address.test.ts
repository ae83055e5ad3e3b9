import { readFileSync } from 'node:fs'
import { describe, it, type TestContext } from 'vitest'
import type { IndicatorView } from '../../../app/contract/views.ts'
import type { Job } from '../../../app/job/schema.ts'
import type { Profile } from '../../../app/profile/schema.ts'
import { busProfile, factory, inForce, type LineUnit, startLineHost } from '../../builders/line-host.ts'
import { value } from '../../builders/practice-host.ts'

const one: LineUnit[] = [{ key: 'a', unit: 3, serial: 1001 }]
const indicatorId = 'ind-a'
const two = [
  { id: indicatorId, unit: 3 },
  { id: 'ind-b', unit: 7 },
]

/** One unit on a line of its own, identified; and what the tests do with it. */
async function start({ onTestFinished }: TestContext, change: Partial<Parameters<typeof startLineHost>[0]> = {}) {
  const line = await startLineHost({ way: 'rtu-over-tcp', units: one, indicators: [{ id: indicatorId, unit: 3 }], ...change })
  onTestFinished(() => line.close())
  value(await line.host.call('indicator.identify', { indicatorId }))
  async function intend(values: Record<string, string>) {
    value(await line.host.call('indicator.intend', { indicatorId, revision: line.host.topics.get('job')?.revision ?? 0, values }))
  }
  return {
    line,
    bench: line.bench,
    call: ((name, request) => line.host.call(name, request)) as typeof line.host.call,
    job: () => JSON.parse(readFileSync(line.jobPath, 'utf8')) as Job,
    log: () =>
      readFileSync(line.jobPath.replace(/\.json$/, '/log.jsonl'), 'utf8')
        .trim()
        .split('\n')
        .map((text) => JSON.parse(text) as { unit: number; result: unknown }),
    view: () => line.host.topics.get('indicator', indicatorId) as IndicatorView,
    intend,
    async write(values: Record<string, string>) {
      await intend(values)
      const preview = value(await line.host.call('settings.preview', { indicatorId }))
      return line.host.call('settings.write', { previewId: preview.previewId })
    },
    /** Takes the line away as soon as the write comes to this step. */
    pullAt(step: string) {
      line.host.topics.subscribe((m) => {
        if (m.kind === 'topic' && m.topic === 'indicator' && (m.value as IndicatorView).writing?.step === step) line.bench.pull('line')
      })
    },
  }
}

const ways = ['pty', 'rtu-over-tcp'] as const
const effects: [string, Profile][] = [
  ['at once', inForce('now')],
  ['after saving', inForce('after-save')],
  ['after a restart', busProfile],
]
const inEachWay = ways.flatMap((way) => effects.map(([when, profile]) => ({ way, when, profile })))

// Silence is waited out many times where nobody is found, so they wait side by side, each on a line of its own.
describe.concurrent('address and line format', { timeout: 60_000 }, () => {
  describe('an indicator is given another address', () => {
    it.for(inEachWay)('over $way, in force $when, and is followed', async ({ way, profile }, test) => {
      const { expect } = test
      const { bench, call, intend, job, log, view } = await start(test, { way, profile })
      await intend({ 'bus.address': '7' })
      const preview = value(await call('settings.preview', { indicatorId }))
      expect(preview.writes).toMatchObject([{ key: 'bus.address', held: '3', intended: '7' }])
      expect(preview.cautions[0]).toMatch(
        /from address 3 at 19200 even 1 to address 7 at 19200 even 1.*goes last.*cannot be put back over a lost line/,
      )
      const written = await call('settings.write', { previewId: preview.previewId })
      expect(written).toMatchObject({ ok: true, value: { saved: true, moved: { from: { unit: 3 }, to: { unit: 7 }, when: 'now' } } })
      expect(job().indicators).toMatchObject([{ id: indicatorId, unit: 7 }])
      // The line format that the factory set is kept where only the address changes.
      expect(job().buses[0]?.link).toMatchObject({ format: factory })
      expect(log()).toMatchObject([{ unit: 3, result: { ok: true } }])
      expect(view()).toMatchObject({ openWrite: null, differs: [], writing: null })
      value(await call('settings.read', { indicatorId }))
      bench.powerCycle('a')
      expect(bench.saved('a')['bus.address']).toEqual([7])
      value(await call('indicator.identify', { indicatorId }))
    })

    it.for(inEachWay)('over $way with rate and parity, in force $when, and is followed after all else', async ({ way, profile }, test) => {
      const { expect } = test
      const { line, bench, call, intend, job } = await start(test, { way, profile })
      await intend({ 'bus.address': '9', 'bus.baud': '57600', 'bus.parity': 'odd' })
      const revision = line.host.topics.get('job')?.revision ?? 0
      value(await call('point.intend', { pointId: `p-${indicatorId}`, revision, values: { 'filter.cutoff@1': '5 Hz' } }))
      const preview = value(await call('settings.preview', { indicatorId }))
      const written = await call('settings.write', { previewId: preview.previewId })
      expect(written).toMatchObject({
        ok: true,
        value: { moved: { to: { unit: 9, format: { baud: 57_600, parity: 'odd', stopBits: 1 } } } },
      })
      expect(job().buses[0]?.link).toMatchObject({ format: { baud: 57_600, parity: 'odd', stopBits: 1 } })
      expect(job().indicators[0]).toMatchObject({ unit: 9 })
      const addresses = bench
        .requests('a')
        .log.filter((r) => r.kind === 'write')
        .map((r) => r.address)
      expect(addresses.indexOf(22)).toBeLessThan(addresses.indexOf(10))
      expect(bench.saved('a')).toMatchObject({ 'bus.address': [9], 'filter.cutoff@1': [3] })
      await line.reopen()
      expect(value(await call('indicator.identify', { indicatorId }))).toMatchObject({ outcome: 'confirmed' })
    })

    it('not where another indicator of the job has it on this bus', async (test) => {
      const { call, intend } = await start(test, { indicators: two })
      await intend({ 'bus.address': '7' })
      test.expect(await call('settings.preview', { indicatorId })).toMatchObject({
        ok: false,
        failure: { kind: 'refused-request', why: test.expect.stringContaining('IND-B has address 7'), where: 'bus.address' },
      })
    })

    it('not where something answers there that the job does not know', async (test) => {
      const { bench, write } = await start(test, { units: [...one, { key: 'b', unit: 7, serial: 1002 }] })
      test.expect(await write({ 'bus.address': '7' })).toMatchObject({
        ok: false,
        failure: { kind: 'not-allowed', why: test.expect.stringContaining('Something answers at address 7 already') },
      })
      test.expect(bench.requests('a').log.some((r) => r.kind === 'write')).toBe(false)
    })

    it('but no line format where others are on the bus', async (test) => {
      const { call, intend } = await start(test, { indicators: two })
      await intend({ 'bus.baud': '9600' })
      test.expect(await call('settings.preview', { indicatorId })).toMatchObject({
        ok: false,
        failure: { why: test.expect.stringContaining('one line format, and on this one are also IND-B') },
      })
    })

    it('but no line format behind a gateway', async (test) => {
      const { call, intend } = await start(test, { way: 'modbus-tcp' })
      await intend({ 'bus.baud': '9600' })
      test.expect(await call('settings.preview', { indicatorId })).toMatchObject({
        ok: false,
        failure: { why: test.expect.stringContaining('gateway') },
      })
    })
  })

  describe('an indicator that is not found at its new address', () => {
    it('is put back where it still answers at the old one', async (test) => {
      const { bench, write, job, view } = await start(test)
      bench.inject('a', { kind: 'ignore', register: 'bus.address', times: 1 })
      const before = bench.saved('a')
      test.expect(await write({ 'bus.address': '7' })).toMatchObject({
        ok: false,
        failure: {
          end: 'restored',
          whereabouts: { old: { unit: 3 }, new: { unit: 7 }, answers: 'at-old' },
          parameters: [{ now: { value: '3' } }],
        },
      })
      test.expect(bench.saved('a')).toEqual(before)
      test.expect(job().indicators[0]?.unit).toBe(3)
      test.expect(view().openWrite).toBeNull()
    })

    it('is told of with what was wanted, what is unknown and what to do; found later, the write is completed', async (test) => {
      const { line, bench, write, call, job, view, pullAt } = await start(test)
      // Its restart takes it off the line for good.
      pullAt('following')
      const said: string[] = []
      let told: IndicatorView['writing'] = null
      line.host.topics.subscribe((m) => {
        const writing = m.kind === 'topic' && m.topic === 'indicator' ? (m.value as IndicatorView).writing : null
        // The view is told anew for other reasons, too: what is said is then the same thing.
        if (writing?.says !== undefined && writing !== told) said.push(writing.says)
        told = writing
      })
      test.expect(await write({ 'bus.address': '7' })).toMatchObject({
        ok: false,
        failure: {
          end: 'not-restored',
          whereabouts: { answers: 'at-neither', advice: test.expect.stringContaining('Look at the bus menu of its front panel') },
          parameters: [{ key: 'bus.address', wanted: '7', before: '3', now: 'unknown' }],
        },
      })
      // What is waited for is told all the while: where it was sent, where it was, and once more where it was sent.
      test
        .expect(said.map((text) => text.replace(/ at 19200 even 1;.*/, '')))
        .toEqual([
          'Looking for it at its new address 7',
          'Looking for it at its old address 3',
          'Looking for it at its new address 7',
          'Looking for it at its old address 3',
        ])
      test.expect(job().indicators[0]?.unit).toBe(3)
      bench.plug('line')
      bench.powerCycle('a')
      await line.reopen()
      const open = view().openWrite
      test.expect(open?.wanted).toMatchObject([{ key: 'bus.address', held: '3', intended: '7' }])
      value(await call('journal.resolve', { indicatorId, journalId: open?.journalId ?? '', how: 'complete' }))
      test.expect(job().indicators[0]?.unit).toBe(7)
      test.expect(bench.saved('a')['bus.address']).toEqual([7])
      test.expect(view()).toMatchObject({ openWrite: null, identity: { outcome: 'confirmed' } })
    })

    it('is found at the new address when the write is taken back, and sent home', async (test) => {
      const { line, bench, write, call, job, view, pullAt } = await start(test)
      pullAt('reading-all')
      test.expect(await write({ 'bus.address': '7' })).toMatchObject({ ok: false })
      bench.plug('line')
      await line.reopen()
      value(await call('journal.resolve', { indicatorId, journalId: view().openWrite?.journalId ?? '', how: 'restore' }))
      test.expect(job().indicators[0]?.unit).toBe(3)
      bench.powerCycle('a')
      value(await call('indicator.identify', { indicatorId }))
      test.expect(bench.saved('a')['bus.address']).toEqual([3])
    })

    it('may need its power switched: it is told so, and the job keeps the old address', async (test) => {
      const { restart: _, ...procedures } = busProfile.procedures
      const { call, write, job } = await start(test, { profile: inForce('after-restart', { procedures }) })
      test.expect(await write({ 'bus.address': '7' })).toMatchObject({ ok: true, value: { moved: { when: 'at-next-power-up' } } })
      test.expect(job().indicators[0]?.unit).toBe(3)
      value(await call('settings.read', { indicatorId }))
    })
  })
})
