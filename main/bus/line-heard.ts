import type { HeardView } from '../../app/contract/bus-calls.ts'
import { hasRightCrc } from './crc.ts'
import { requestLength } from './listening.ts'

/** Bytes as they came while nothing was sent; `at` is monotonic ms of the last one. */
export type HeardBytes = { at: number; bytes: Uint8Array }

type Heard = Pick<HeardView, 'bytes' | 'verdict' | 'asks' | 'answersFrom' | 'strayBytes'>

/** Length of the answer that these bytes may begin. Source: MODBUS Application Protocol V1.1b3, 6.1 to 6.17 and 7. */
function answerLength([unit = 0, code = 0, count = 0]: Uint8Array): number | undefined {
  if (unit < 1 || unit > 247) return undefined
  if (code > 0x80) return 5
  if (code >= 1 && code <= 4) return 5 + count
  if (code === 17 || code === 23) return 5 + count
  if (code === 5 || code === 6 || code === 15 || code === 16) return 8
  return code === 22 ? 10 : undefined
}

/** What bytes that nobody here asked for say about a line: who asks how often, who answers, and what is no sound frame. */
export function judgeHeard(pieces: readonly HeardBytes[]): Heard {
  const bytes = Uint8Array.from(pieces.flatMap((p) => [...p.bytes]))
  const times = pieces.flatMap((p) => Array.from(p.bytes, () => p.at))
  const asked = new Map<string, { unit: number; function: number; at: number[] }>()
  const answersFrom = new Set<number>()
  let strayBytes = 0
  let open: { unit: number; function: number } | undefined
  for (let from = 0; from < bytes.length; ) {
    const rest = bytes.subarray(from)
    const [unit = 0, code = 0] = rest
    const whole = (length: number | undefined): length is number => length !== undefined && hasRightCrc(bytes, from, length)
    const [request, answer] = [requestLength(rest), answerLength(rest)]
    // An answer to FC05, FC06 or FC22 looks like its request: it is the answer where that request has just been heard.
    const answersOpen = whole(answer) && open?.unit === unit && open.function === (code & 0x7f)
    if (whole(request) && !answersOpen) {
      const key = `${unit}/${code}`
      const known = asked.get(key) ?? { unit, function: code, at: [] }
      known.at.push(times[from] ?? 0)
      asked.set(key, known)
      open = { unit, function: code }
      from += request
    } else if (whole(answer)) {
      answersFrom.add(unit)
      open = undefined
      from += answer
    } else {
      strayBytes++
      from++
    }
  }
  const asks = [...asked.values()].map(({ at, ...who }) => ({ ...who, times: at.length, everyMs: medianGap(at) }))
  const verdict = asks.length > 0 ? 'other-master' : answersFrom.size > 0 ? 'answers' : bytes.length > 0 ? 'noise' : 'silent'
  return { bytes: bytes.length, verdict, asks, answersFrom: [...answersFrom].sort((a, b) => a - b), strayBytes }
}

function medianGap(at: readonly number[]): number | null {
  const gaps = at.slice(1).map((t, i) => t - (at[i] ?? t))
  const sorted = gaps.sort((a, b) => a - b)
  return sorted[Math.floor(sorted.length / 2)] ?? null
}

/** What was heard and what to do next, for people. */
export function explainHeard({ verdict, asks, answersFrom, bytes }: Heard, heardMs: number): string {
  const seconds = `${(heardMs / 1000).toFixed(0)} s`
  switch (verdict) {
    case 'silent':
      return `Nothing was heard in ${seconds}. A master that asks more seldom than that would not have been noticed.`
    case 'other-master': {
      const who = asks.map((a) => `unit ${a.unit} with function ${a.function}${a.everyMs === null ? '' : ` every ${period(a.everyMs)}`}`)
      return `Another master asks ${who.join(', ')}. Disconnect one of the two before anything is sent.`
    }
    case 'answers':
      return `Sound answers came from unit ${answersFrom.join(', ')} but no requests: somebody asks on a pair of wires that is not heard here. Find that master before anything is sent.`
    case 'noise':
      return `${bytes} bytes came that are no sound frame. Somebody may be talking in another baud or parity; otherwise check termination, bias, screening and swapped wires.`
  }
}

const period = (ms: number) => (ms < 950 ? `${Math.round(ms / 10) * 10} ms` : `${(ms / 1000).toFixed(1)} s`)
