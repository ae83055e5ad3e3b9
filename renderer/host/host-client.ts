import type { RendererMessage } from '../../app/contract/contract.ts'
import {
  type CallName,
  type HostCalls,
  type HostClient,
  type HostReach,
  hostCalls,
  hostMessage,
  type Pushed,
  pulseMs,
} from '../../app/contract/contract.ts'
import { decodeSamples } from '../../app/contract/sample-batch.ts'

/** Carries whole messages to the host and back, whatever the shell. */
export type Channel = {
  send(message: RendererMessage): void
  onMessage(listener: (message: unknown) => void): void
  onConnected(listener: (connected: boolean) => void): void
}

type Waiting = { name: CallName; settle: (reply: unknown) => void; giveUp: (why: Error) => void }

/** Pulses that may fail to come one after the other. A page that was held up itself looks once, late, and finds what came meanwhile. */
const mostMissed = 3

/**
 * The page's end of the contract. Replies and messages are parsed before anybody sees them.
 * A call rejects when the host refused its form or the connection was lost before the answer came: what the host did is then unknown.
 */
export function createHostClient(
  channel: Channel,
  onUnreadable: (what: string) => void,
  every: (ms: number, run: () => void) => void = (ms, run) => void setInterval(run, ms),
): HostClient {
  const waiting = new Map<number, Waiting>()
  const listeners = new Set<(message: Pushed) => void>()
  const watchers = new Set<(reach: HostReach) => void>()
  const tell = (message: Pushed) => {
    for (const listener of listeners) listener(message)
  }
  let reach: HostReach = 'lost'
  const nowIs = (next: HostReach) => {
    if (next === reach) return
    reach = next
    for (const watcher of watchers) watcher(next)
  }
  let missed = 0
  let lastCall = 0
  let serving: string | undefined

  every(pulseMs, () => {
    missed += 1
    if (missed > mostMissed && reach === 'connected') nowIs('silent')
  })

  channel.onMessage((raw) => {
    missed = 0
    if (reach === 'silent') nowIs('connected')
    const parsed = hostMessage.safeParse(raw)
    if (!parsed.success) return onUnreadable(firstIssue('a message', parsed.error))
    const message = parsed.data
    if (message.kind === 'reply' || message.kind === 'rejected') {
      const call = waiting.get(message.call)
      waiting.delete(message.call)
      if (!call) return
      if (message.kind === 'rejected') return call.giveUp(new Error(message.why))
      return call.settle(message.value)
    }
    if (message.kind === 'pulse') return
    if (message.kind === 'afresh') serving = message.serving
    if (message.kind === 'topic' || message.kind === 'afresh') return tell(message)
    const batch = decodeSamples(message.bytes)
    if (!batch.ok) return onUnreadable(unreadable(batch.failure))
    tell({ kind: 'samples', samples: batch.value.samples })
    // Said after the samples have been worked through: a page that is behind is sent fewer.
    channel.send({ kind: 'taken', batch: batch.value.batch })
  })

  channel.onConnected((now) => {
    missed = 0
    if (!now) {
      for (const call of waiting.values())
        call.giveUp(new Error('The connection to the host was lost before it answered; look at what it shows once it is back.'))
      waiting.clear()
    }
    nowIs(now ? 'connected' : 'lost')
  })

  return {
    call<N extends CallName>(name: N, request: HostCalls[N]['request']) {
      return new Promise<HostCalls[N]['reply']>((resolve, reject) => {
        if (reach === 'lost') return reject(new Error('There is no connection to the host. Nothing was sent.'))
        lastCall += 1
        waiting.set(lastCall, {
          name,
          giveUp: reject,
          settle(value) {
            const reply = hostCalls[name].reply.safeParse(value)
            if (reply.success) return resolve(reply.data as HostCalls[N]['reply'])
            const what = firstIssue(`the answer to ${name}`, reply.error)
            onUnreadable(what)
            reject(new Error(what))
          },
        })
        channel.send({ kind: 'call', call: lastCall, name, request, ...(serving === undefined ? {} : { serving }) })
      })
    },
    listen(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    onReach(listener) {
      watchers.add(listener)
      listener(reach)
      return () => watchers.delete(listener)
    },
  }
}

type Issues = { issues: readonly { path: readonly PropertyKey[]; message: string }[] }

export function firstIssue(what: string, error: Issues): string {
  const issue = error.issues[0]
  return unreadable(
    `${what} that this page cannot read (${issue ? `${issue.path.map(String).join('.')}: ${issue.message}` : 'unknown form'})`,
  )
}

const unreadable = (what: string) => `The host sent ${what}. Page and host may be of different versions.`
