import { pulseMs, rendererMessage } from '../app/contract/contract.ts'
import { curveSample } from '../app/contract/sample-batch.ts'
import type { Channel } from './channel.ts'
import type { Host } from './host/host.ts'
import { createLiveOutbox } from './live-outbox.ts'

/** Connects one renderer to the host: all topics and the samples of the last minutes first, then what changes, live values only as fast as it takes them; calls are decoded before they are served. */
export function serveRenderer(host: Pick<Host, 'callUntrusted' | 'topics'>, channel: Channel): void {
  for (const message of host.topics.all()) channel.send(message)
  const live = createLiveOutbox((message) => channel.send(message))
  live.recall(host.topics.recall())
  const unsubscribe = host.topics.subscribe((event) => {
    if (event.kind === 'samples') live.samples(event.samples.map(curveSample))
    else if (event.kind === 'afresh') {
      live.clear()
      channel.send(event)
    } else if (event.topic === 'live') live.view(event.key ?? '', event)
    else channel.send(event)
  })
  const pulse = setInterval(() => channel.send({ kind: 'pulse' }), pulseMs)
  channel.onClose(() => {
    clearInterval(pulse)
    unsubscribe()
  })
  channel.onMessage((raw) => {
    const message = rendererMessage.safeParse(raw)
    if (!message.success) {
      channel.send({ kind: 'rejected', call: callNumber(raw), why: 'The message is not a call of the contract.' })
      return
    }
    if (message.data.kind === 'taken') return live.taken(message.data.batch)
    const { call, name, request, serving } = message.data
    // Halting is never refused.
    if (serving !== undefined && serving !== host.topics.serving && name !== 'sending.stop') {
      channel.send({ kind: 'rejected', call, why: 'Another job has been opened meanwhile. Nothing was done.' })
      return
    }
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
