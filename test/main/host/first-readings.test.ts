import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { fail } from '../../../app/result.ts'
import { openBus } from '../../../main/bus/open-bus.ts'
import { createJob, openJobStore } from '../../../main/files/job-store.ts'
import { createHost } from '../../../main/host/host.ts'
import { nodeClock } from '../../../main/host/node-clock.ts'
import { practiceLink } from '../../../main/practice/open-practice.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { practiceBuses, startBench } from '../../../simulator/index.ts'
import { startLineHost } from '../../builders/line-host.ts'
import { value } from '../../builders/practice-host.ts'
import { topicSeen } from '../../builders/topic-seen.ts'

it('reads the points of a bus live while another bus is still being opened', async () => {
  const bench = await startBench({ buses: practiceBuses(bundledProfiles, 'rtu-over-tcp'), seed: 1 })
  const jobPath = join(mkdtempSync(join(tmpdir(), 'spanwright-first-')), 'first.job.json')
  value(createJob(jobPath, practiceJob()))
  const line = Promise.withResolvers<void>()
  const host = createHost({
    store: value(openJobStore(jobPath, { address: 'test', since: nodeClock.stamp() })),
    shell: 'command line',
    profiles: bundledProfiles,
    clock: nodeClock,
    bench: null,
    async openBus(bus) {
      if (bus.id === 'bus-2') return openBus({ ...bus, link: practiceLink(bench.addressOf, bus) })
      await line.promise
      return fail({ kind: 'link-down', why: 'there is no such port' })
    },
  })
  const started = host.start()
  const isFresh = (view: { state: string }) => view.state === 'fresh'

  await Promise.all(['wt-201', 'wt-202', 'pt-301'].map((pointId) => topicSeen(host, 'live', pointId, isFresh)))

  expect(host.topics.get('bus', 'bus-1')?.state).toBe('opening')
  expect(host.topics.get('live', 'wt-101')?.state).toBe('never-read')
  line.resolve()
  await started
  await host.close()
  await bench.close()
})

it('says why an indicator that is asked and never answers has no reading', async () => {
  const line = await startLineHost({
    way: 'rtu-over-tcp',
    units: [{ key: 'a', unit: 3, serial: 11, on: false }],
    indicators: [{ id: 'ind-1', unit: 3 }],
  })
  await line.host.call('live.start', { pointIds: ['p-ind-1'] })
  const view = await topicSeen(line.host, 'live', 'p-ind-1', (v) => v.state === 'never-read' && v.because !== undefined)
  expect(view).toMatchObject({ because: { kind: 'no-reply' } })
  await line.close()
})
