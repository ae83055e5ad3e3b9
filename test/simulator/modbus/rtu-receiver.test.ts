import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { serveRtu } from '../../../simulator/line.ts'
import { serve } from '../../../simulator/modbus/serve.ts'
import { wordBank } from '../../../simulator/modbus/word-bank.ts'
import { memoryWire } from '../memory-wire.ts'

const silenceMs = 5
const readOne = '11 03 00 00 00 01 86 9A'
const answer = '11 03 02 00 07 38 45'

const start = (delayMs = 0) => {
  const { wire, said, put } = memoryWire()
  const holding = new Map([[0, 7]])
  const bank = wordBank({ holding })
  const hear = (pdu: Uint8Array, broadcast: boolean) => {
    const reply = serve(bank, pdu)
    return broadcast ? undefined : { pdu: reply, fault: undefined, delayMs }
  }
  let plugged = true
  const stations = [17, 18].map((unit) => ({ unit, hear }))
  serveRtu(wire, stations, () => plugged, { characterMs: 0, silenceMs })
  const silence = () => vi.advanceTimersByTime(silenceMs + 1)
  const plug = (on: boolean) => {
    plugged = on
  }
  return { put, said, holding, silence, plug }
}

describe('requests in a stream of bytes', () => {
  beforeEach(() => void vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'setImmediate', 'clearImmediate'] }))
  afterEach(() => void vi.useRealTimers())

  it('are found when they come in pieces', () => {
    const { put, said } = start()
    put('11 03 00')
    put('00 00 01 86')
    expect(said).toEqual([])
    put('9A')
    expect(said).toEqual([answer])
  })

  it('are found one after another without a pause', () => {
    const { put, said } = start()
    put(`${readOne} ${readOne}`)
    expect(said).toEqual([answer, answer])
  })

  it('are lost behind stray bytes, until a silence', () => {
    const { put, said, silence } = start()
    put('00 FF')
    put(readOne)
    silence()
    expect(said).toEqual([])
    put(readOne)
    expect(said).toEqual([answer])
  })

  it('that break off are dropped at a silence', () => {
    const { put, said, silence } = start()
    put('11 03 00 00')
    silence()
    put(readOne)
    expect(said).toEqual([answer])
  })

  it('with a wrong CRC meet silence, and the next one is heard', () => {
    const { put, said, silence } = start()
    put('11 03 00 00 00 01 86 9B')
    silence()
    expect(said).toEqual([])
    put(readOne)
    expect(said).toEqual([answer])
  })

  it('to an address that is not there meet silence', () => {
    const { put, said, silence } = start()
    put('13 03 00 00 00 01 87 78')
    silence()
    expect(said).toEqual([])
    put(readOne)
    expect(said).toEqual([answer])
  })

  it('to all are carried out and answered by nobody', () => {
    const { put, said, silence, holding } = start()
    put('00 06 00 00 00 2A 09 C4')
    silence()
    expect(holding.get(0)).toBe(0x2a)
    expect(said).toEqual([])
  })

  it('of a function without a known length end at a silence: 55 is refused with exception 01', () => {
    const { put, said, silence } = start()
    put('11 55 00 1E 95')
    expect(said).toEqual([])
    silence()
    expect(said).toEqual(['11 D5 01 BE 95'])
  })

  it('are lost while the cable is off, answered when it is back', () => {
    const { put, said, plug } = start()
    plug(false)
    put(readOne)
    plug(true)
    expect(said).toEqual([])
    put(readOne)
    expect(said).toEqual([answer])
  })

  it('get no answer where the cable comes off before it is sent', () => {
    const { put, said, plug } = start(50)
    put(readOne)
    plug(false)
    vi.advanceTimersByTime(60)
    plug(true)
    vi.advanceTimersByTime(60)
    expect(said).toEqual([])
    put(readOne)
    vi.advanceTimersByTime(60)
    expect(said).toEqual([answer])
  })
})
