import type { BusView } from '../../app/contract/views.ts'
import { busStateWords } from '../setup/bus-words.ts'

export type BusNow = { id: string; name: string; view: BusView | undefined }
export type BusesTold = {
  /** What is not right, in the fewest words, and the whole of it; null where nothing is. */
  wrong: { tone: 'attention' | 'lost' | 'second'; name: string; says: string; whole: string } | null
  /** Right ones each by itself, or many together with the number that answers. */
  right: readonly string[] | { count: number; answering: number }
}

/** More buses than this are told together. */
const mostBusesSingly = 2

/** How the buses of a job are told in one line: what is not right first, and never more than the line holds. */
export function busesTold(buses: readonly BusNow[], stopped: boolean): BusesTold {
  const known = buses.filter((b) => b.view !== undefined)
  const wrong = known.flatMap(({ id, name, view }) => {
    const trouble = view && troubleOf(view, stopped)
    return trouble ? [{ id, name, ...trouble }] : []
  })
  const right = buses.filter((b) => !wrong.some((w) => w.id === b.id))
  const answering = known.reduce((sum, { view }) => sum + (view?.answering ?? 0), 0)
  const [first, ...others] = wrong
  const whole = wrong.map((w) => `${w.name}: ${w.says}`).join('; ')
  return {
    wrong: !first
      ? null
      : others.length === 0
        ? { ...first, whole: first.why ? `${whole}. ${first.why}` : whole }
        : {
            tone: stopped ? 'attention' : wrong.some((w) => w.tone === 'lost') ? 'lost' : 'second',
            name: `${wrong.length} buses`,
            says: wrong.every((w) => w.says === first.says && w.settled) ? first.says : 'not right',
            whole,
          },
    // Where none is left that answers, "not right" has said all.
    right:
      right.length === 0 && answering === 0
        ? []
        : buses.length > mostBusesSingly
          ? { count: buses.length, answering }
          : right.map((b) => b.id),
  }
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
