import type { BusView } from '../../app/contract/views.ts'
import { busStateWords } from '../setup/bus-words.ts'

export type BusNow = { id: string; name: string; view: BusView | undefined }
/** What is told in one line, from left to right. */
export type BusTold =
  /** What is not right, in the fewest words, and the whole of it. */
  | { kind: 'wrong'; tone: 'attention' | 'lost' | 'second'; name: string; says: string; whole: string }
  | { kind: 'right'; id: string }
  /** Many together, with the number that answers. */
  | { kind: 'many'; count: number; answering: number }

/** More buses than this are told together. */
const mostBusesSingly = 2

/**
 * How the buses of a job are told in one line, never more than the line holds. Each keeps its place in it when it goes wrong; of many
 * what is not right stands before their number, which ends the line either way.
 */
export function busesTold(buses: readonly BusNow[], stopped: boolean): BusTold[] {
  const troubles = new Map(
    buses.flatMap(({ id, name, view }) => {
      const trouble = view && troubleOf(view, stopped)
      return trouble ? [[id, { name, ...trouble }] as const] : []
    }),
  )
  const [first, ...others] = [...troubles.values()]
  const whole = [...troubles.values()].map((w) => `${w.name}: ${w.says}`).join('; ')
  const answering = buses.reduce((sum, { view }) => sum + (view?.answering ?? 0), 0)
  const many: BusTold[] = buses.length > mostBusesSingly ? [{ kind: 'many', count: buses.length, answering }] : []
  if (first && others.length > 0) {
    const all = [first, ...others]
    const wrong: BusTold = {
      kind: 'wrong',
      tone: stopped ? 'attention' : all.some((w) => w.tone === 'lost') ? 'lost' : 'second',
      name: `${all.length} buses`,
      says: all.every((w) => w.says === first.says && w.settled) ? first.says : 'not right',
      whole,
    }
    // Where none is left that answers, "not right" has said all.
    return all.length === buses.length && answering === 0 ? [wrong] : [wrong, ...many]
  }
  const told = (bus: BusNow): BusTold => {
    const trouble = troubles.get(bus.id)
    if (!trouble) return { kind: 'right', id: bus.id }
    const { tone, name, says, why } = trouble
    return { kind: 'wrong', tone, name, says, whole: why ? `${whole}. ${why}` : whole }
  }
  if (many.length === 0) return buses.map(told)
  return [...buses.filter((b) => troubles.has(b.id)).map(told), ...many]
}

function troubleOf({ state, why, silent, answering }: BusView, stopped: boolean) {
  if (state !== 'open')
    return {
      tone: stopped ? ('attention' as const) : state === 'down' || state === 'halted' ? ('lost' as const) : ('second' as const),
      says: stopped ? 'stopped' : busStateWords[state],
      why,
      settled: true,
    }
  return silent > 0 ? { tone: 'lost' as const, says: `${silent} of ${answering + silent} silent`, why, settled: false } : null
}
