import { fail, ok, type Result } from '../../app/result.ts'
import type { BusClock } from './bus-clock.ts'
import { type Kept, keepOpen } from './keep-open.ts'
import { connectModbusTcp, type ModbusTcpClient } from './modbus-tcp-client.ts'
import type { Link, LinkState, Outcome, Request, TappedFrame } from './request.ts'
import { encodeRequest, parseAnswer } from './rtu-frame.ts'

/**
 * Modbus TCP to an indicator or gateway, connected again by itself when it is lost. The deadline runs from the request.
 * Taps show unit and PDU, without the header of the protocol. Unit 0 is a unit like others here, not a broadcast.
 */
export async function openModbusTcpLink(host: string, port: number, clock: BusClock): Promise<Result<Link, string>> {
  const kept = await keepOpen(
    () => connectModbusTcp(host, port, clock),
    clock,
    () => {},
  )
  return kept.ok ? ok(modbusTcpLink(kept.value, clock)) : kept
}

function modbusTcpLink(kept: Kept<ModbusTcpClient>, clock: BusClock): Link {
  const taps = new Set<(frame: TappedFrame) => void>()
  const tap = (direction: 'sent' | 'received', frame: Uint8Array, note?: string) => {
    const bytes = frame.slice(0, -2)
    for (const listener of [...taps]) listener({ at: clock.now(), direction, bytes, ...(note === undefined ? {} : { note }) })
  }
  const down = (state: LinkState) => fail({ kind: 'link-down' as const, why: state.kind === 'down' ? state.why : 'it was closed' })
  let busy = false

  async function ask(client: ModbusTcpClient, unit: number, request: Request, withinMs: number): Promise<Outcome> {
    const askedAt = clock.now()
    tap('sent', encodeRequest(unit, request))
    const raw = await client.ask(unit, request, withinMs)
    const at = clock.now()
    if (raw.kind === 'timed-out') return fail({ kind: 'no-reply', waitedMs: at - askedAt, tries: 1 })
    if (raw.kind === 'trouble' || raw.kind === 'lost') return fail({ kind: 'link-down', why: raw.why })
    const content = parseAnswer(unit, request, raw.frame)
    tap('received', raw.frame, content.ok || content.failure.kind === 'refused' ? undefined : 'no sound answer')
    return content.ok ? ok({ ...content.value, at, tookMs: at - askedAt }) : content
  }

  return {
    get state() {
      return kept.state
    },
    onState: (listener) => kept.onState(listener),
    onUnasked: () => () => {},
    onTap(listener) {
      taps.add(listener)
      return () => taps.delete(listener)
    },
    close: () => kept.close(),
    async transact(unit, request, answerWithinMs, maySend = () => true) {
      if (busy) throw new Error('a request is already under way')
      busy = true
      try {
        const client = kept.current
        if (!client) return down(kept.state)
        const ready = await client.ready()
        if (!ready.ok) return fail({ kind: 'link-down', why: ready.failure })
        if (!maySend()) return fail({ kind: 'stopped' })
        return await ask(client, unit, request, answerWithinMs)
      } finally {
        busy = false
      }
    },
  }
}
