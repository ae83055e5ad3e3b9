import { describe, expect, it } from 'vitest'
import type { HostReach, Pushed, RendererMessage } from '../../../app/contract/contract.ts'
import { encodeSamples } from '../../../app/contract/sample-batch.ts'
import { type Channel, createHostClient } from '../../../renderer/host/host-client.ts'

function connect() {
  const sent: Extract<RendererMessage, { kind: 'call' }>[] = []
  const taken: number[] = []
  const unreadable: string[] = []
  let receive: (message: unknown) => void = () => {}
  let setConnected: (connected: boolean) => void = () => {}
  let tick = () => {}
  const channel: Channel = {
    send: (m) => (m.kind === 'call' ? sent.push(m) : taken.push(m.batch)),
    onMessage: (l) => {
      receive = l
    },
    onConnected: (l) => {
      setConnected = l
    },
  }
  const client = createHostClient(
    channel,
    (what) => unreadable.push(what),
    (_, run) => {
      tick = run
    },
  )
  const pulsesDue = (count: number) => {
    for (let i = 0; i < count; i += 1) tick()
  }
  return { client, sent, taken, unreadable, pulsesDue, receive: (m: unknown) => receive(m), setConnected: (c: boolean) => setConnected(c) }
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

  it('says with each call which serving of a job it means, as last told', () => {
    const { client, sent, receive, setConnected } = connect()
    setConnected(true)
    receive({ kind: 'afresh', serving: 'mill 1', topics: [] })
    void client.call('sending.stop', {})
    receive({ kind: 'afresh', serving: 'press 2', topics: [] })
    void client.call('sending.stop', {})
    expect(sent.map((m) => m.serving)).toEqual(['mill 1', 'press 2'])
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

  it('calls a host silent that sends not even its pulse, still passes calls on to it, and hears it again', async () => {
    const { client, sent, pulsesDue, receive, setConnected } = connect()
    const reaches: HostReach[] = []
    client.onReach((reach) => reaches.push(reach))
    pulsesDue(10)
    setConnected(true)
    pulsesDue(3)
    receive({ kind: 'pulse' })
    pulsesDue(3)
    expect(reaches).toEqual(['lost', 'connected'])
    pulsesDue(1)
    expect(reaches).toEqual(['lost', 'connected', 'silent'])

    const stop = client.call('sending.stop', {})
    receive({ kind: 'reply', call: sent[0]?.call, value: { ok: true, value: { openWrites: [] } } })
    expect(await stop).toMatchObject({ ok: true })
    expect(reaches.at(-1)).toBe('connected')
    setConnected(false)
    expect(reaches.at(-1)).toBe('lost')
  })

  it('hands on topics and samples, and reports what is neither', () => {
    const { client, taken, receive, unreadable } = connect()
    const heard: Pushed[] = []
    client.listen((m) => heard.push(m))
    const samples = [{ pointId: 'wt-101', unit: 'kg', at: 50, reading: 1.5, signal: Number.NaN }]
    const bytes = encodeSamples(7, samples)

    receive({ kind: 'samples', bytes })
    receive({ kind: 'samples', bytes: bytes.subarray(0, bytes.length - 1) })
    receive('{ half a message')

    expect(heard).toEqual([{ kind: 'samples', samples }])
    expect(taken).toEqual([7])
    expect(unreadable).toHaveLength(2)
  })
})
