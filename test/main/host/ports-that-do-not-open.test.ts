import { chmodSync, mkdtempSync, realpathSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, describe, expect, it } from 'vitest'
import { explainBusFailure } from '../../../app/contract/bus-failure.ts'
import type { Bus, Job } from '../../../app/job/schema.ts'
import type { SerialFormat } from '../../../app/profile/schema.ts'
import { serialStream } from '../../../main/bus/serial-stream.ts'
import { createJob } from '../../../main/files/job-store.ts'
import { openHost } from '../../../main/open-host.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { type Bench, startBench } from '../../../simulator/index.ts'
import { factory, type LineHost, startLineHost } from '../../builders/line-host.ts'
import { oneHopperBuses } from '../../builders/one-hopper.ts'
import { panelJob } from '../../builders/panel-job.ts'
import { value } from '../../builders/practice-host.ts'
import { unprivilegedUntil } from '../../builders/unprivileged.ts'

const ends: (() => Promise<unknown>)[] = []
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end()
})

async function ptyBench(): Promise<{ bench: Bench; path: string }> {
  const bench = await startBench({ buses: oneHopperBuses({ kind: 'pty', baud: 115_200, bitsPerCharacter: 11 }), seed: 1 })
  ends.push(() => bench.close())
  const address = bench.addressOf('line-1')
  if (!('path' in address)) throw new Error('expected a pseudo-terminal')
  return { bench, path: realpathSync(address.path) }
}

const none = { baud: 115_200, parity: 'none', stopBits: 1 } as const

/** The real host over a job whose line is at this port, and what comes of opening it. */
const openingOf = (path: string) =>
  openingIn({ ...panelJob(), buses: [{ id: 'bus-1', name: 'Line', link: { kind: 'serial', path, format: none } }] })

async function openingIn(job: Job) {
  const jobPath = join(mkdtempSync(join(tmpdir(), 'spanwright-port-')), 'site.job.json')
  value(createJob(jobPath, job))
  const { host } = value(await openHost({ jobPath, shell: 'command line', address: 'test', listenMs: 0 }))
  ends.push(() => host.close())
  const opened = await host.call('bus.open', { busId: 'bus-1' })
  return { host, opened, view: host.topics.get('bus', 'bus-1') }
}

/** The answer, the view of the bus and a request that comes all the same say it; nothing hangs. */
async function expectDown({ host, opened, view }: Awaited<ReturnType<typeof openingOf>>, why: RegExp) {
  expect(opened).toMatchObject({ ok: false, failure: { kind: 'link-down', why: expect.stringMatching(why) } })
  expect(view).toMatchObject({ state: 'down', why: expect.stringMatching(why) })
  expect(await host.call('indicator.identify', { indicatorId: 'ind-1' })).toMatchObject({ ok: false, failure: { kind: 'link-down' } })
}

describe.runIf(process.platform === 'linux')('a port', () => {
  it('that is not there', async () => {
    await expectDown(await openingOf('/dev/no-such-port'), /no port \/dev\/no-such-port\. Is the adapter plugged in\?/)
  })

  it('that another program has open, and opens once that one lets go', async () => {
    const { path } = await ptyBench()
    const other = value(await serialStream(path, none)())
    const there = await openingOf(path)
    await other.close()
    await expectDown(there, /is in use by another program; close it there first/)
    value(await there.host.call('bus.open', { busId: 'bus-1' }))
    expect(await there.host.call('indicator.identify', { indicatorId: 'ind-1' })).toMatchObject({
      ok: true,
      value: { outcome: 'confirmed' },
    })
  })

  it('that this user may not open', async () => {
    const { path } = await ptyBench()
    chmodSync(path, 0o000)
    await unprivilegedUntil(async () => {
      await expectDown(await openingOf(path), /may not be opened by this user; on Linux add the user to the group/)
    })
  })

  it('that is no serial port', async () => {
    await expectDown(await openingOf('/dev/null'), /\/dev\/null could not be opened|is no serial port/)
  })
})

describe('a line format that is not the indicator’s', { timeout: 30_000 }, () => {
  let line: LineHost
  const reopenIn = async (format: SerialFormat) => {
    const { host } = line
    await host.call('bus.close', { busId: 'bus-1' })
    const job = host.topics.get('job')!
    const link = { ...job.buses[0]!.link, format } as (typeof job.buses)[number]['link']
    value(await host.call('bus.edit', { revision: job.revision, busId: 'bus-1', change: { link } }))
    value(await host.call('bus.open', { busId: 'bus-1' }))
    return host.call('indicator.identify', { indicatorId: 'ind-1' })
  }

  it('is silence or garbage, said with what to look at, until it is put right', async () => {
    line = await startLineHost({
      way: 'rtu-over-tcp',
      units: [{ key: 'a', unit: 3, serial: 1001 }],
      indicators: [{ id: 'ind-1', unit: 3 }],
    })
    ends.push(() => line.close())
    const wrong: SerialFormat[] = [
      { ...factory, baud: 9_600 },
      { ...factory, baud: 38_400 },
      { ...factory, parity: 'odd' },
      { ...factory, parity: 'none' },
    ]
    for (const format of wrong) {
      const asked = await reopenIn(format)
      if (asked.ok || asked.failure.kind === 'refused-request')
        throw new Error(`understood in ${JSON.stringify(format)}: ${JSON.stringify(asked)}`)
      expect(['no-reply', 'garbled']).toContain(asked.failure.kind)
      expect(explainBusFailure(asked.failure)).toMatch(/Check .*baud.*parity/)
    }
    expect(line.bench.requests('a').count).toBe(0)
    expect(await reopenIn(factory)).toMatchObject({ ok: true, value: { outcome: 'confirmed' } })
  })
})

it('a bus of the practice bench that it does not have is down, and says which there are', async () => {
  const job = practiceJob()
  const absent = job.buses.map((bus) => (bus.id === 'bus-1' ? { ...bus, link: { ...bus.link, bus: 'line-9' } as Bus['link'] } : bus))
  await expectDown(await openingIn({ ...job, buses: absent }), /the practice bench has no bus "line-9", only .+; choose one of these for /)
})
