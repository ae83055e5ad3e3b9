import { type BusFailure, explainBusFailure } from '../../app/contract/bus-failure.ts'
import type { HostCalls } from '../../app/contract/contract.ts'
import type { RegisterSearchView, SearchCandidate, UnitAt } from '../../app/contract/describe-calls.ts'
import { agreeingCandidates, type Candidate, likeliestFirst, stillAgree } from '../../app/profile/register-view.ts'
import { wordCount } from '../../app/profile/words.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { viewBlock } from '../indicator/view-registers.ts'
import type { ReachedUnit } from './register-calls.ts'
import type { World } from './world.ts'

/** Registers that are asked for and looked at in one go; small enough that cancelling is felt and other units get their turn. */
const stretch = 120
const listed = 200

type Kept = { table: 'holding' | 'input'; from: number; to: number; looks: number; all: SearchCandidate[] }
type Look = Result<RegisterSearchView, BusFailure>

const keyOf = ({ busId, unit }: UnitAt) => `${busId}/${unit}`

/** Finds the place that a display follows: every shape of every register of a range that agrees with it, narrowed by later looks. */
export function createRegisterSearch(w: World) {
  const kept = new Map<string, Kept>()

  async function look(
    at: UnitAt,
    { bus, rules }: ReachedUnit,
    signal: AbortSignal,
    now: Kept & { display: string; stretches: readonly { address: number; count: number }[]; keep(found: Candidate[]): Candidate[] },
  ): Promise<Look> {
    const { table, from, to, looks, display } = now
    const of = now.stretches.reduce((sum, s) => sum + s.count, 0)
    let asked = 0
    const began = w.clock.now()
    let longest = rules.longest
    const all: SearchCandidate[] = []
    const show = (state: RegisterSearchView['state'], why?: string): RegisterSearchView => {
      const view: RegisterSearchView = {
        state,
        ...{ table, from, to, display, looks, asked, of },
        leftMs: asked === 0 ? null : ((w.clock.now() - began) / asked) * (of - asked),
        agreeing: all.length,
        candidates: likeliestFirst(all).slice(0, listed),
        ...(why === undefined ? {} : { why }),
      }
      w.topics.set('registerSearch', keyOf(at), view)
      return view
    }
    show('running')
    // The last word of a stretch is kept: a value of two registers may lie across the edge.
    let edge: { address: number; word: number | null } | undefined
    for (const { address, count } of now.stretches) {
      const options = {
        ...rules,
        longest,
        pause: w.clock.pause,
        table,
        address,
        count,
        signal,
        priority: asked === 0 ? 'user' : 'live',
      } as const
      const seen = await viewBlock(bus, at.unit, options)
      if (!seen.ok) {
        const cancelled = signal.aborted && seen.failure.kind === 'stopped'
        const view = show(cancelled ? 'cancelled' : 'failed', cancelled ? undefined : explainBusFailure(seen.failure))
        return cancelled ? ok(view) : fail(seen.failure)
      }
      longest = seen.value.longest
      const joins = edge?.address === address - 1 ? edge : undefined
      const [first, words] = joins ? [joins.address, [joins.word, ...seen.value.words]] : [address, seen.value.words]
      const found = agreeingCandidates(first, words, display).filter((c) => !joins || c.address + wordCount(c.type) > address)
      for (const c of now.keep(found)) all.push(toView(c, words.slice(c.address - first, c.address - first + wordCount(c.type))))
      edge = { address: address + count - 1, word: seen.value.words.at(-1) ?? null }
      asked += count
      show('running')
    }
    kept.set(keyOf(at), { table, from, to, looks, all })
    return ok(show('ended'))
  }

  return {
    has: (at: UnitAt) => kept.has(keyOf(at)),

    first(request: HostCalls['registers.search']['request'], reached: ReachedUnit, signal: AbortSignal): Promise<Look> {
      const { table, from, to, display } = request
      kept.delete(keyOf(request))
      const stretches: { address: number; count: number }[] = []
      for (let address = from; address <= to; address += stretch) stretches.push({ address, count: Math.min(stretch, to - address + 1) })
      return look(request, reached, signal, { table, from, to, looks: 1, all: [], display, stretches, keep: (found) => found })
    },

    async again(request: HostCalls['registers.search-again']['request'], reached: ReachedUnit, signal: AbortSignal): Promise<Look> {
      const before = kept.get(keyOf(request))
      if (!before) throw new RangeError('no search of this unit to look at again')
      const keep = (found: Candidate[]) => stillAgree(before.all, found)
      return look(request, reached, signal, {
        ...before,
        looks: before.looks + 1,
        display: request.display,
        stretches: around(before.all),
        keep,
      })
    },
  }
}

const toView = ({ address, type, order, decimals, text, agrees }: Candidate, words: (number | null)[]): SearchCandidate => ({
  address,
  type,
  order,
  ...(decimals === undefined ? {} : { decimals }),
  words: words.filter((word) => word !== null),
  text: text ?? '',
  agrees: agrees === 'exact' ? 'exact' : 'rounded',
})

/** The registers that are still in question, neighbours in one stretch. */
function around(all: readonly SearchCandidate[]): { address: number; count: number }[] {
  const addresses = [...new Set(all.flatMap((c) => c.words.map((_, i) => c.address + i)))].sort((a, b) => a - b)
  const list: { address: number; count: number }[] = []
  for (const address of addresses) {
    const open = list.at(-1)
    if (open && open.address + open.count === address && open.count < stretch) open.count++
    else list.push({ address, count: 1 })
  }
  return list
}
