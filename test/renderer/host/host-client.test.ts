import { describe, expect, it } from 'vitest'
import type { RendererMessage } from '../../../app/contract/contract.ts'
import { type Channel, createHostClient } from '../../../renderer/host/host-client.ts'

function connect() {
  const sent: RendererMessage[] = []
  const unreadable: string[] = []
  let receive: (message: unknown) => void = () => {}
  let setConnected: (connected: boolean) => void = () => {}
  const channel: Channel = {
    send: (m) => sent.push(m),
    onMessage: (l) => {
      receive = l
    },
    onConnected: (l) => {
      setConnected = l
    },
  }
  const client = createHostClient(channel, (what) => unreadable.push(what))
  return { client, sent, unreadable, receive: (m: unknown) => receive(m), setConnected: (c: boolean) => setConnected(c) }
}

describe('host client', () => {
  it('matches each reply to its own call, whatever the order', async () => {
    const { client, sent, receive, setConnected } = connect()
    setConnected(true)
    const first = client.call('visit.start', { by: 'A. Tester' })
    const second = client.call('sending.stop', {})

    receive({ kind: 'reply', call: sent[1]?.call, value: { ok: true, value: { openWrites: [] } } })
    receive({ kind: 'reply', call: sent[0]?.call, value: { ok: true, value: { visitId: 'visit-1' } } })

    expect(await first).toEqual({ ok: true, value: { visitId: 'visit-1' } })
    expect(await second).toEqual({ ok: true, value: { openWrites: [] } })
  })

  it('does not hand on a reply that breaks the contract', async () => {
    const { client, sent, receive, setConnected, unreadable } = connect()
    setConnected(true)
    const call = client.call('visit.start', { by: 'A. Tester' })

    receive({ kind: 'reply', call: sent[0]?.call, value: { ok: true, value: {} } })

    await expect(call).rejects.toThrow(/visit\.start/)
    expect(unreadable).toHaveLength(1)
  })

  it('says of a call cut off by a lost connection that its outcome is not known', async () => {
    const { client, setConnected } = connect()
    setConnected(true)
    const call = client.call('sending.stop', {})

    setConnected(false)

    await expect(call).rejects.toThrow(/lost before it answered/)
  })

  it('sends nothing while there is no connection, and says so', async () => {
    const { client, sent } = connect()

    await expect(client.call('sending.stop', {})).rejects.toThrow(/Nothing was sent/)
    expect(sent).toEqual([])
  })

  it('hands on topics and samples, and reports what is neither', () => {
    const { client, receive, unreadable } = connect()
    const heard: string[] = []
    client.listen((m) => heard.push(m.kind))

    receive({ kind: 'samples', samples: [] })
    receive('{ half a message')

    expect(heard).toEqual(['samples'])
    expect(unreadable).toHaveLength(1)
  })
})
