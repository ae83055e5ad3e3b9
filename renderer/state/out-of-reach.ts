import type { HostReach } from '../../app/contract/contract.ts'
import type { LiveView } from '../../app/contract/views.ts'

/**
 * A live value as it stands `sinceMs` after the host last told one: nothing comes any more, so it is stale and every poll is missed.
 * What the bus does meanwhile is not known here.
 */
export function outOfReach(view: LiveView, sinceMs: number, reach: Exclude<HostReach, 'connected'>): LiveView {
  if (view.state === 'never-read') return view
  const ageMs = sinceMs + (view.state === 'stale' ? view.ageMs : 0)
  return { state: 'stale', sample: view.sample, ageMs, missed: Number.POSITIVE_INFINITY, because: { kind: 'link-down', why: why[reach] } }
}

const why = { lost: 'the connection to the host is lost', silent: 'the host is silent' }
