import type { Indicator } from '../../app/job/schema.ts'
import type { IndicatorSession } from './indicator-session.ts'
import { keepAsFound } from './job-calls.ts'
import type { World } from './world.ts'

const meeting = new WeakMap<IndicatorSession, Promise<void>>()

/** Identifies an indicator and reads what it holds; nothing is written. What was read first in a visit is kept as found. */
export function meet(w: World, indicator: Indicator): Promise<void> {
  const session = w.sessions.get(indicator.id)
  if (!session) return Promise.resolve()
  const going = meeting.get(session) ?? identifyAndRead(w, indicator.id, session).finally(() => meeting.delete(session))
  meeting.set(session, going)
  return going
}

export const isMet = (w: World, indicatorId: string): boolean => w.sessions.get(indicatorId)?.view().identity.outcome !== 'not-asked'

/** Those of a bus that could not be asked so far: the bus was closed or taken, or they are new. One after another. */
export async function meetNew(w: World, busId: string): Promise<void> {
  for (const indicator of w.store.job.indicators.filter((i) => i.busId === busId)) {
    if (w.closed || !w.buses.has(busId)) return
    if (!isMet(w, indicator.id)) await meet(w, indicator)
  }
}

async function identifyAndRead(w: World, indicatorId: string, session: IndicatorSession): Promise<void> {
  const known = await session.identify()
  if (!known.ok || w.closed) return
  const image = await session.read()
  if (image.ok && !w.closed) keepAsFound(w, indicatorId, image.value)
}
