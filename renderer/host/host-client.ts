import type { RendererMessage } from '../../app/contract/contract.ts'
import { type CallName, type HostCalls, type HostClient, hostCalls, hostMessage, type Pushed } from '../../app/contract/contract.ts'
import { decodeSamples } from '../../app/contract/sample-batch.ts'

/** Carries whole messages to the host and back, whatever the shell. */
export type Channel = {
  send(message: RendererMessage): void
  onMessage(listener: (message: unknown) => void): void
  onConnected(listener: (connected: boolean) => void): void
}

type Waiting = { name: CallName; settle: (reply: unknown) => void; giveUp: (why: Error) => void }

/**
 * The page's end of the contract. Replies and messages are parsed before anybody sees them.
 * A call rejects when the host refused its form or the connection was lost before the answer came: what the host did is then unknown.
 */
export function createHostClient(channel: Channel, onUnreadable: (what: string) => void): HostClient {
  const waiting = new Map<number, Waiting>()
  const listeners = new Set<(message: Pushed) => void>()
  const watchers = new Set<(connected: boolean) => void>()
  const tell = (message: Pushed) => {
    for (const listener of listeners) listener(message)
  }
  let connected = false
  let lastCall = 0
  let serving: string | undefined

  channel.onMessage((raw) => {
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
    if (message.kind === 'afresh') serving = message.serving
    if (message.kind === 'topic' || message.kind === 'afresh') return tell(message)
    const batch = decodeSamples(message.bytes)
    if (!batch.ok) return onUnreadable(unreadable(batch.failure))
    tell({ kind: 'samples', samples: batch.value.samples })
    // Said after the samples have been worked through: a page that is behind is sent fewer.
    channel.send({ kind: 'taken', batch: batch.value.batch })
  })

  channel.onConnected((now) => {
    connected = now
    if (!now) {
      for (const call of waiting.values())
        call.giveUp(new Error('The connection to the host was lost before it answered; look at what it shows once it is back.'))
      waiting.clear()
    }
    for (const watcher of watchers) watcher(now)
  })

  return {
    call<N extends CallName>(name: N, request: HostCalls[N]['request']) {
      return new Promise<HostCalls[N]['reply']>((resolve, reject) => {
        if (!connected) return reject(new Error('There is no connection to the host. Nothing was sent.'))
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
    onConnected(listener) {
      watchers.add(listener)
      listener(connected)
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
