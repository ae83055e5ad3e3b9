import { intendedOn } from '../../app/job/intended.ts'
import type { Indicator } from '../../app/job/schema.ts'
import { fail } from '../../app/result.ts'
import { mayMove, placeOf, reformatBus, settle } from './attach-bus.ts'
import { createIndicatorSession } from './indicator-session.ts'
import { indicatorOf, pointsOn, presentVisit, publishSession, type World } from './world.ts'

/** Makes the session of an indicator; none where its profile is not known. One that was there is dropped. */
export function addSession(world: World, indicator: Indicator): void {
  dropSession(world, indicator.id)
  const profile = world.profiles.get(indicator.profileId)
  if (!profile) return
  const session = createIndicatorSession({
    indicator,
    profile,
    clock: world.clock,
    journal: world.store.journal,
    port: {
      async request(unit, request, how) {
        const bus = world.buses.get(indicatorOf(world, indicator.id)?.busId ?? '')
        return bus ? bus.request(unit, request, how) : fail({ kind: 'link-down', why: 'the bus is not open' })
      },
    },
    intended: () => intendedOn(pointsOn(world, indicator.id)),
    points: () => pointsOn(world, indicator.id),
    visit: () => presentVisit(world),
    sample(pointId) {
      const live = world.topics.get('live', pointId)
      return live?.state === 'fresh' ? live.sample : undefined
    },
    by: () => world.session.by,
    newId: world.newId,
    publish: (view) => {
      // An answer still under way to a session that was dropped is told to nobody.
      if (world.sessions.get(indicator.id) === session) world.topics.set('indicator', indicator.id, view)
    },
    log(line) {
      const kept = world.store.log(line)
      const { logged } = world.session
      // A write that the log did not take stands in its journal, and is told from there.
      if (logged !== null && (kept.ok || 'journalId' in line)) publishSession(world, { logged: logged + 1 })
      return kept
    },
    place: placeOf(world, indicator.id),
    reformat: (format) => reformatBus(world, indicator.id, format),
    mayMove: (from, to, lineFormat) => mayMove(world, indicator.id, from, to, lineFormat),
    settle: (place) => settle(world, indicator.id, place),
  })
  world.sessions.set(indicator.id, session)
  world.topics.set('indicator', indicator.id, session.view())
}

export function dropSession(world: World, indicatorId: string): void {
  world.sessions.delete(indicatorId)
  world.topics.drop('indicator', indicatorId)
}
