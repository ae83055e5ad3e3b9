import type { HostMessage } from '../app/contract/contract.ts'
import { type CurveSample, encodeSamples } from '../app/contract/sample-batch.ts'

/** Batches under way before the page has to say that it has taken one: at 20 batches a second, a fifth of a second. */
const mostUnderWay = 4
const mostHeld = 8_000

/**
 * What is live on its way to one page, with back pressure: a page that is busy is sent no more than it has room for. What waits
 * meanwhile is held: of every live view the newest, of the samples all, thinned when they become too many.
 */
export function createLiveOutbox(send: (message: HostMessage) => void) {
  let samples: CurveSample[] = []
  /** Of an earlier time, to be sent before all others: pieces of a size that a page takes without a stutter. */
  let earlier: CurveSample[][] = []
  const views = new Map<string, HostMessage>()
  let sent = 0
  let taken = 0

  function pump(): void {
    if (sent - taken >= mostUnderWay) return
    for (const view of views.values()) send(view)
    views.clear()
    const piece = earlier.shift()
    const next = piece ?? samples
    if (next.length === 0) return
    if (!piece) samples = []
    sent += 1
    send({ kind: 'samples', bytes: encodeSamples(sent, next) })
  }

  return {
    samples(more: readonly CurveSample[]): void {
      samples.push(...more)
      while (samples.length > mostHeld) samples = thinned(samples)
      pump()
    },
    /** What came before this page was there. */
    recall(before: readonly CurveSample[]): void {
      for (let from = 0; from < before.length; from += mostHeld) earlier.push(before.slice(from, from + mostHeld))
      for (const _ of earlier.slice(0, mostUnderWay)) pump()
    },
    view(pointId: string, message: HostMessage): void {
      views.set(pointId, message)
      pump()
    },
    /** What waits belongs to a job that has been left. */
    clear(): void {
      views.clear()
      samples = []
      earlier = []
    },
    /** The page has taken this batch and all before it. A number that was never sent says nothing. */
    taken(batch: number): void {
      if (batch > sent || batch <= taken) return
      taken = batch
      pump()
    },
  }
}

const blockLength = 10

/** At most half as many, of each point in blocks of ten: smallest and largest reading and signal and one gap stay, so no spike is lost. */
export function thinned(samples: readonly CurveSample[]): CurveSample[] {
  const kept = new Set<CurveSample>()
  for (const of of Map.groupBy(samples, (s) => `${s.pointId} ${s.unit}`).values()) {
    for (let from = 0; from < of.length; from += blockLength) {
      for (const sample of extremes(of.slice(from, from + blockLength))) kept.add(sample)
    }
  }
  return samples.filter((s) => kept.has(s))
}

function extremes(block: readonly CurveSample[]): CurveSample[] {
  const found: CurveSample[] = []
  for (const quantity of ['reading', 'signal'] as const) {
    const numbers = block.filter((s) => !Number.isNaN(s[quantity]))
    if (numbers.length === 0) continue
    found.push(
      numbers.reduce((a, b) => (b[quantity] < a[quantity] ? b : a)),
      numbers.reduce((a, b) => (b[quantity] > a[quantity] ? b : a)),
    )
  }
  const gap = block.find((s) => Number.isNaN(s.reading))
  return gap ? [...found, gap] : found
}
