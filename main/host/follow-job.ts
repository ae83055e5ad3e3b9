import { pointClash } from '../../app/job/point-rules.ts'
import { sameValue } from '../../app/job/same-value.ts'
import type { Job } from '../../app/job/schema.ts'
import { inUse, unfitIndicator, unfitLink } from './job-edit-calls.ts'
import type { LiveLoop } from './live-loop.ts'
import { refuse } from './refusals.ts'
import { addSession, dropSession } from './sessions.ts'
import { dropBus } from './topics.ts'
import type { World } from './world.ts'

type Refusal = ReturnType<typeof refuse>
const without = <T extends { id: string }>(items: readonly T[], others: readonly { id: string }[]): T[] =>
  items.filter((item) => !others.some((other) => other.id === item.id))

/** Why the job cannot become `next` all at once: what is in use, stands in evidence, or would not fit together. Null where it can. */
export function whyNotBecome(w: World, recorded: readonly string[], next: Job): Refusal | null {
  const { job } = w.store
  for (const bus of job.buses) {
    const then = next.buses.find((b) => b.id === bus.id)
    if ((w.buses.has(bus.id) || w.taken.has(bus.id)) && !sameValue(then?.link, bus.link))
      return refuse(`${bus.name} is open. Close it first.`, 'busId')
  }
  for (const bus of next.buses) {
    const wrong = unfitLink(w, bus, next)
    if (wrong) return wrong
  }
  for (const indicator of job.indicators) {
    const then = next.indicators.find((i) => i.id === indicator.id)
    if (then && sameValue({ ...then, name: '' }, { ...indicator, name: '' })) continue
    const wrong = inUse(w, indicator)
    if (wrong) return wrong
  }
  for (const indicator of next.indicators) {
    const wrong = unfitIndicator(w, indicator, next)
    if (wrong) return wrong
  }
  for (const point of without(job.points, next.points)) {
    if (recorded.includes(point.id)) return refuse(`${point.tag} is being recorded; stop that first.`, 'pointId')
    if (job.visits.some((v) => v.checks.some((c) => c.pointId === point.id)))
      return refuse(`${point.tag} has checks in visits; evidence is not taken away.`, 'pointId')
  }
  for (const point of next.points) {
    const clash = pointClash(point, next.points, next.indicators, w.profiles)
    if (clash) return refuse(`${point.tag}: ${clash.why}`, clash.where)
  }
  return null
}

/** Lets sessions, polling and what renderers are told follow a job that has become another all at once. */
export function followJob(w: World, live: LiveLoop, before: Job): void {
  const { job } = w.store
  for (const bus of without(before.buses, job.buses)) dropBus(w.topics, bus.id)
  for (const bus of without(job.buses, before.buses)) w.topics.set('bus', bus.id, { state: 'closed', answering: 0, silent: 0 })
  for (const gone of without(before.indicators, job.indicators)) dropSession(w, gone.id)
  for (const indicator of job.indicators) {
    const was = before.indicators.find((i) => i.id === indicator.id)
    if (was && sameValue({ ...was, name: '' }, { ...indicator, name: '' })) w.sessions.get(indicator.id)?.refresh()
    else addSession(w, indicator)
  }
  for (const gone of without(before.points, job.points)) w.topics.drop('live', gone.id)
  const come = without(job.points, before.points)
  for (const { id } of come) w.topics.set('live', id, { state: 'never-read' })
  const stay = live.wanted().filter((id) => job.points.some((p) => p.id === id))
  live.want([...new Set([...stay, ...come.map((p) => p.id)])])
}
