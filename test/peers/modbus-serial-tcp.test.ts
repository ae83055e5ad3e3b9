import { createServer, type Server, type Socket } from 'node:net'
import { ServerTCP } from 'modbus-serial'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type OpenBus, openBus } from '../../main/bus/open-bus.ts'
import type { Outcome, Request } from '../../main/bus/request.ts'

const closers: (() => Promise<void>)[] = []

afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close()
})

async function openTo(port: number): Promise<OpenBus> {
  const opened = await openBus({ link: { kind: 'modbus-tcp', host: '127.0.0.1', port } })
  if (!opened.ok) throw new Error(JSON.stringify(opened.failure))
  closers.push(() => opened.value.close())
  return opened.value
}

const asker =
  (bus: OpenBus) =>
  (request: Request, { unit = 17, answerMs = 1000 } = {}): Promise<Outcome> =>
    bus.request(unit, request, { priority: 'user', answerMs })

describe('a Modbus TCP server of modbus-serial', () => {
  const registers = new Map<number, number>()
  const coils = new Map<number, boolean>()
  let ask: ReturnType<typeof asker>

  beforeEach(async () => {
    registers.clear()
    coils.clear()
    const refused = Object.assign(new Error('no such register'), { modbusErrorCode: 2 })
    const server = new ServerTCP(
      {
        getHoldingRegister: (address: number) => {
          if (address >= 100) throw refused
          return registers.get(address) ?? 1000 + address
        },
        getInputRegister: (address: number, unit: number) => unit * 256 + address,
        getCoil: (address: number) => coils.get(address) ?? address % 3 === 0,
        getDiscreteInput: (address: number) => address % 2 === 1,
        setRegister: (address: number, value: number) => {
          registers.set(address, value)
        },
        setCoil: (address: number, value: boolean) => {
          coils.set(address, value)
        },
      },
      { host: '127.0.0.1', port: 0 },
    )
    closers.push(() => new Promise((resolve) => server.close(() => resolve())))
    const port = await new Promise<number>((resolve) => {
      const inner = (server as unknown as { _server: Server })._server
      inner.once('listening', () => resolve((inner.address() as { port: number }).port))
    })
    ask = asker(await openTo(port))
  })

  it('reads coils and inputs without the padding to whole bytes (01, 02)', async () => {
    expect(await ask({ kind: 'read-bits', table: 'coil', address: 3, count: 10 })).toMatchObject({
      ok: true,
      value: { bits: [true, false, false, true, false, false, true, false, false, true] },
    })
    expect(await ask({ kind: 'read-bits', table: 'discrete', address: 4, count: 3 })).toMatchObject({
      ok: true,
      value: { bits: [false, true, false] },
    })
  })

  it('reads registers (03, 04), of the unit asked', async () => {
    expect(await ask({ kind: 'read-registers', table: 'holding', address: 5, count: 3 })).toMatchObject({
      ok: true,
      value: { words: [1005, 1006, 1007] },
    })
    const [one, other] = await Promise.all(
      [1, 255].map((unit) => ask({ kind: 'read-registers', table: 'input', address: 7, count: 1 }, { unit })),
    )
    expect(one).toMatchObject({ ok: true, value: { words: [256 + 7] } })
    expect(other).toMatchObject({ ok: true, value: { words: [255 * 256 + 7] } })
  })

  it('writes coils and registers (05, 06, 15, 16)', async () => {
    for (const request of [
      { kind: 'write-coil', address: 1, on: true },
      { kind: 'write-coils', address: 20, on: [true, false, true] },
      { kind: 'write-register', address: 30, word: 0xbeef },
      { kind: 'write-registers', address: 31, words: [1, 0xffff] },
    ] satisfies Request[]) {
      expect(await ask(request)).toMatchObject({ ok: true, value: { kind: 'done' } })
    }
    expect([...coils]).toEqual([
      [1, true],
      [20, true],
      [21, false],
      [22, true],
    ])
    expect([...registers]).toEqual([
      [30, 0xbeef],
      [31, 1],
      [32, 0xffff],
    ])
  })

  it('is refused with the code that the server gives', async () => {
    expect(await ask({ kind: 'read-registers', table: 'holding', address: 100, count: 1 })).toEqual({
      ok: false,
      failure: { kind: 'refused', code: 2 },
    })
  })
})

/** A server that answers with whatever the test says, after the header with the request's own transaction number. */
async function scripted(answer: (pdu: Buffer, socket: Socket) => Uint8Array | null): Promise<number> {
  const sockets = new Set<Socket>()
  const server = createServer((socket) => {
    sockets.add(socket)
    socket.on('error', () => {})
    socket.on('data', (request) => {
      const pdu = answer(request.subarray(7), socket)
      if (!pdu) return
      const header = Buffer.from(request.subarray(0, 7))
      header.writeUInt16BE(pdu.length + 1, 4)
      socket.write(Buffer.concat([header, pdu]))
    })
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  closers.push(
    () =>
      new Promise((resolve) => {
        for (const socket of sockets) socket.destroy()
        server.close(() => resolve())
      }),
  )
  return (server.address() as { port: number }).port
}

const read: Request = { kind: 'read-registers', table: 'holding', address: 0x6b, count: 3 }

describe('a Modbus TCP unit that misbehaves', () => {
  it('is not believed when the write it confirms is another one', async () => {
    const ask = asker(await openTo(await scripted(() => Uint8Array.of(6, 0, 1, 0, 4))))
    expect(await ask({ kind: 'write-register', address: 1, word: 3 })).toMatchObject({ ok: false, failure: { kind: 'foreign' } })
  })

  it('is not believed when it sends fewer registers than asked', async () => {
    const ask = asker(await openTo(await scripted(() => Uint8Array.of(3, 2, 0, 1))))
    expect(await ask({ kind: 'read-registers', table: 'holding', address: 0, count: 2 })).toMatchObject({
      ok: false,
      failure: { kind: 'foreign' },
    })
  })

  it('that is silent ends in no reply, and its late answer is not the next one', async () => {
    let requests = 0
    let late: (() => void) | undefined
    const port = await scripted((_, socket) => {
      requests++
      if (requests === 1) {
        late = () => socket.write(Uint8Array.of(0, 1, 0, 0, 0, 9, 17, 3, 6, 0, 1, 0, 1, 0, 1))
        return null
      }
      late?.()
      return Uint8Array.of(3, 6, 0x02, 0x2b, 0, 0, 0, 0x64)
    })
    const ask = asker(await openTo(port))
    expect(await ask({ kind: 'write-register', address: 1, word: 3 }, { answerMs: 50 })).toMatchObject({
      ok: false,
      failure: { kind: 'no-reply' },
    })
    // MODBUS Application Protocol V1.1b3, 6.3: 555, 0, 100.
    expect(await ask(read)).toMatchObject({ ok: true, value: { words: [555, 0, 100] } })
  })

  it('that says more objects follow is asked no further, and says where they go on', async () => {
    let requests = 0
    const port = await scripted(() => {
      requests++
      return Uint8Array.of(0x2b, 0x0e, 1, 1, 0xff, 2, 1, 0, 2, 0x41, 0x42)
    })
    const ask = asker(await openTo(port))
    expect(await ask({ kind: 'device-identification', code: 1, object: 0 })).toMatchObject({
      ok: true,
      value: { objects: [{ id: 0, text: 'AB' }], more: true, next: 2 },
    })
    expect(requests).toBe(1)
  })

  it('gives its server identification and masks a register', async () => {
    const ask = asker(await openTo(await scripted((pdu) => (pdu[0] === 17 ? Uint8Array.of(17, 3, 1, 0xff, 0x42) : pdu))))
    const server = await ask({ kind: 'server-id' })
    expect(server).toMatchObject({ ok: true, value: { bytes: Uint8Array.of(1, 0xff, 0x42) } })
    expect(await ask({ kind: 'mask-write', address: 4, and: 0xf2, or: 0x25 })).toMatchObject({ ok: true, value: { kind: 'done' } })
  })

  it('that cuts the connection settles the request at once and says so', async () => {
    const bus = await openTo(
      await scripted((_, socket) => {
        socket.resetAndDestroy()
        return null
      }),
    )
    expect(await asker(bus)({ kind: 'write-register', address: 1, word: 3 }, { answerMs: 60_000 })).toMatchObject({
      ok: false,
      failure: { kind: 'link-down' },
    })
    expect(bus.view().state).toBe('down')
  })

  it('that is not there is said to refuse the connection', async () => {
    const port = await scripted(() => null)
    await closers.pop()?.()
    expect(await openBus({ link: { kind: 'modbus-tcp', host: '127.0.0.1', port } })).toMatchObject({
      ok: false,
      failure: { kind: 'link-down', why: expect.stringContaining('refuses the connection') },
    })
  })
})
