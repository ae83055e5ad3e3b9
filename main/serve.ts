import { rendererMessage } from '../app/contract/contract.ts'
import type { Channel } from './channel.ts'
import type { Host } from './host/host.ts'

/** Connects one renderer to the host: all topics first, then what changes; calls are decoded before they are served. */
export function serveRenderer(host: Pick<Host, 'callUntrusted' | 'topics'>, channel: Channel): void {
  for (const message of host.topics.all()) channel.send(message)
  const unsubscribe = host.topics.subscribe((message) => channel.send(message))
  channel.onClose(unsubscribe)
  channel.onMessage((raw) => {
    const message = rendererMessage.safeParse(raw)
    if (!message.success) {
      channel.send({ kind: 'rejected', call: callNumber(raw), why: 'The message is not a call of the contract.' })
      return
    }
    const { call, name, request } = message.data
    host.callUntrusted(name, request).then(
      (reply) => channel.send(reply.ok ? { kind: 'reply', call, value: reply.value } : { kind: 'rejected', call, why: reply.why }),
      (cause: unknown) =>
        channel.send({
          kind: 'rejected',
          call,
          why: `The host failed on this call: ${cause instanceof Error ? cause.message : String(cause)}`,
        }),
    )
  })
}

const callNumber = (raw: unknown): number =>
  typeof raw === 'object' && raw !== null && 'call' in raw && Number.isInteger(raw.call) ? Number(raw.call) : 0
