import type { Profile } from '../../app/profile/schema.ts'
import { openBus } from '../../main/bus/open-bus.ts'
import { openJobStore } from '../../main/files/job-store.ts'
import { createHost, type Host } from '../../main/host/host.ts'
import { nodeClock } from '../../main/host/node-clock.ts'

/** The real host over a job of real links and one profile, with as little to load as can be: made for being started hundreds of times. */
export function openLeanHost(jobPath: string, profile: Profile): Host {
  const store = openJobStore(jobPath, { address: 'test', since: nodeClock.stamp() })
  if (!store.ok) throw new Error(store.failure.why)
  return createHost({
    store: store.value,
    shell: 'command line',
    profiles: new Map([[profile.id, profile]]),
    clock: nodeClock,
    bench: null,
    openBus({ link }) {
      if (link.kind === 'practice') throw new Error('a real link is expected')
      return openBus({ link }, { listenMs: 0 })
    },
  })
}
