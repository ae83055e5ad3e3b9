import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { decode } from '../../app/profile/codec.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { type OpenBus, openBus } from '../../main/bus/open-bus.ts'
import type { Outcome, Request, TappedFrame } from '../../main/bus/request.ts'
import { describePeers } from './peer.ts'

const float = bundledProfiles.get('two-pairs-float32-locked')!.registers.find((r) => r.type === 'f32')!

/** 8N1: a second open of a pseudo-terminal with another parity is refused by some systems. */
const format = { baud: 115_200, parity: 'none', stopBits: 1 } as const

/** Resolves when the program has said `word` on either output; fails with what it said instead. */
function said(program: ChildProcess, word: string): Promise<void> {
  return new Promise((resolve, reject) => {
    let text = ''
    const hear = (chunk: Buffer) => {
      text += chunk.toString()
      if (text.includes(word)) resolve()
    }
    program.stdout?.on('data', hear)
    program.stderr?.on('data', hear)
    program.once('exit', () => reject(new Error(`it ended instead of saying "${word}": ${text}`)))
  })
}

function ended(program: ChildProcess | undefined): Promise<void> {
  if (!program || program.exitCode !== null || program.signalCode !== null) return Promise.resolve()
  return new Promise((resolve) => {
    program.once('exit', () => resolve())
    program.kill()
  })
}

describePeers(['socat', 'pymodbus'], 'a slave of pymodbus on a serial line', (paths) => {
  let folder: string
  let wire: ChildProcess | undefined
  let slave: ChildProcess | undefined
  let bus: OpenBus

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'spanwright-line-'))
    const ends = ['ours', 'theirs'].map((end) => join(folder, end))
    wire = spawn(paths.socat, ['-d', '-d', ...ends.map((path) => `pty,raw,echo=0,link=${path}`)])
    await said(wire, 'starting data transfer loop')
    slave = spawn(paths.pymodbus, [join(import.meta.dirname, 'pymodbus-slave.py'), ends[1] ?? ''])
    await said(slave, 'ready')
    const opened = await openBus({ link: { kind: 'serial', path: ends[0] ?? '', format } }, { listenMs: 50 })
    if (!opened.ok) throw new Error(JSON.stringify(opened.failure))
    bus = opened.value
  })

  afterAll(async () => {
    await bus?.close()
    await ended(slave)
    await ended(wire)
    rmSync(folder, { recursive: true, force: true })
  })

  const ask = (request: Request, unit = 17): Promise<Outcome> => bus.request(unit, request, { priority: 'user', answerMs: 500 })
  const held = async (address: number, count: number) => {
    const outcome = await ask({ kind: 'read-registers', table: 'holding', address, count })
    return outcome.ok && outcome.value.kind === 'words' ? outcome.value.words : outcome
  }
  const coils = async (address: number, count: number) => {
    const outcome = await ask({ kind: 'read-bits', table: 'coil', address, count })
    return outcome.ok && outcome.value.kind === 'bits' ? outcome.value.bits : outcome
  }

  // The contents are those that the slave's script sets by address: every third coil, odd inputs, 1000 + n, 2000 + n.
  it('reads coils and discrete inputs (01, 02)', async () => {
    expect(await coils(3, 10)).toEqual([true, false, false, true, false, false, true, false, false, true])
    expect(await ask({ kind: 'read-bits', table: 'discrete', address: 4, count: 3 })).toMatchObject({
      ok: true,
      value: { bits: [false, true, false] },
    })
  })

  it('reads holding and input registers (03, 04), up to 125 at once', async () => {
    expect(await held(5, 3)).toEqual([1005, 1006, 1007])
    expect(await held(60, 125)).toEqual(Array.from({ length: 125 }, (_, i) => 1060 + i))
    expect(await ask({ kind: 'read-registers', table: 'input', address: 9, count: 2 })).toMatchObject({
      ok: true,
      value: { words: [2009, 2010] },
    })
  })

  it.each([
    ['f32', 'ABCD', 190, '-1.5'],
    ['f32', 'CDAB', 192, '-1.5'],
    ['i32', 'ABCD', 194, '-70000'],
    ['i32', 'CDAB', 196, '-70000'],
  ] as const)('reads %s in the word order %s as the slave built it', async (type, order, address, means) => {
    const words = await held(address, 2)
    if (!Array.isArray(words)) throw new Error(JSON.stringify(words))
    expect(decode({ ...float, type, order }, words)).toBe(means)
  })

  it('writes single and several coils (05, 15)', async () => {
    expect(await ask({ kind: 'write-coil', address: 1, on: true })).toMatchObject({ ok: true, value: { kind: 'done' } })
    expect(
      await ask({ kind: 'write-coils', address: 20, on: [true, true, false, false, true, true, false, true, true, true] }),
    ).toMatchObject({ ok: true })
    expect(await coils(0, 3)).toEqual([true, true, false])
    expect(await coils(20, 10)).toEqual([true, true, false, false, true, true, false, true, true, true])
  })

  it('writes single and several registers (06, 16)', async () => {
    expect(await ask({ kind: 'write-register', address: 30, word: 0xbeef })).toMatchObject({ ok: true, value: { kind: 'done' } })
    expect(await ask({ kind: 'write-registers', address: 31, words: [1, 0xffff, 3] })).toMatchObject({ ok: true, value: { kind: 'done' } })
    expect(await held(29, 6)).toEqual([1029, 0xbeef, 1, 0xffff, 3, 1034])
  })

  it('changes bits of a register by masks (22), with the published result', async () => {
    // MODBUS Application Protocol V1.1b3, 6.16: 0012 and F2, or 25 gives 0017.
    await ask({ kind: 'write-register', address: 40, word: 0x12 })
    expect(await ask({ kind: 'mask-write', address: 40, and: 0xf2, or: 0x25 })).toMatchObject({ ok: true, value: { kind: 'done' } })
    expect(await held(40, 1)).toEqual([0x17])
  })

  it('reads who it is (17 and 43/14)', async () => {
    expect(await ask({ kind: 'device-identification', code: 1, object: 0 })).toMatchObject({
      ok: true,
      value: {
        more: false,
        objects: [
          { id: 0, text: 'Test vendor' },
          { id: 1, text: 'Test code' },
          { id: 2, text: '1.2.3' },
        ],
      },
    })
    const server = await ask({ kind: 'server-id' })
    if (!server.ok || server.value.kind !== 'bytes') throw new Error(JSON.stringify(server))
    expect(String.fromCharCode(...server.value.bytes.slice(0, -1))).toBe('Test vendor-Test code-1.2.3')
    expect(server.value.bytes.at(-1)).toBe(0xff)
  })

  it('is refused what the slave does not have', async () => {
    expect(await held(250, 3)).toEqual({ ok: false, failure: { kind: 'refused', code: 2 } })
  })

  it('hears nothing from a unit that is not there, then the next answer is right again', async () => {
    expect(await ask({ kind: 'write-register', address: 50, word: 1 }, 18)).toMatchObject({
      ok: false,
      failure: { kind: 'no-reply', tries: 1 },
    })
    expect(await held(50, 1)).toEqual([1050])
  })

  it('has every frame of both directions on the tap', async () => {
    const frames: TappedFrame[] = []
    const untap = bus.onTap((frame) => frames.push(frame))
    await held(5, 1)
    untap()
    expect(frames.map((f) => [f.direction, f.bytes.length])).toEqual([
      ['sent', 8],
      ['received', 7],
    ])
    expect(frames[1]?.at).toBeGreaterThan(frames[0]?.at ?? 0)
  })

  it('a port that somebody has open is named as in use', async () => {
    const second = await openBus({ link: { kind: 'serial', path: join(folder, 'ours'), format } }, { listenMs: 0 })
    expect(second).toMatchObject({ ok: false, failure: { kind: 'link-down', why: expect.stringContaining('in use') } })
  })

  it('the end of the line is noticed and said', async () => {
    const lost = new Promise<void>((resolve) => {
      bus.onChange(() => {
        if (bus.view().state === 'down') resolve()
      })
    })
    await ended(wire)
    await lost
    expect(bus.view().why).toContain(join(folder, 'ours'))
    expect(await held(5, 1)).toMatchObject({ ok: false, failure: { kind: 'link-down' } })
  })
})
