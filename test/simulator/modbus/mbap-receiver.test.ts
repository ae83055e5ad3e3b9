import { describe, expect, it } from 'vitest'
import { serveMbap } from '../../../simulator/line.ts'
import { serve } from '../../../simulator/modbus/serve.ts'
import { wordBank } from '../../../simulator/modbus/word-bank.ts'
import { memoryWire } from '../memory-wire.ts'

const start = (...units: number[]) => {
  const { wire, said, put } = memoryWire()
  const bank = wordBank({ holding: new Map([[0, 7]]) })
  const hear = (pdu: Uint8Array) => ({ pdu: serve(bank, pdu), fault: undefined, delayMs: 0 })
  const stations = units.map((unit) => ({ unit, hear }))
  let closed = false
  const close = async () => {
    closed = true
  }
  serveMbap({ ...wire, close }, stations, () => true)
  return { put, said, isClosed: () => closed }
}

/** Layout of the header: MODBUS Messaging on TCP/IP Implementation Guide V1.0b, 3.1.3. The frames are illustrations (regression check). */
describe('a Modbus TCP connection', () => {
  it('answers with the transaction number of the request, whole or in pieces, one or several at once', () => {
    const { put, said } = start(17)
    put('15 01 00 00 00 06 11 03 00 00 00 01')
    put('15 02 00 00 00 06 11')
    put('03 00 00 00 01 15 03 00 00 00 06 11 03 00 05 00 01')
    expect(said).toEqual(['15 01 00 00 00 05 11 03 02 00 07', '15 02 00 00 00 05 11 03 02 00 07', '15 03 00 00 00 03 11 83 02'])
  })

  it('reaches a single indicator by units 0 and 255 also, and by no other', () => {
    const { put, said } = start(17)
    put('00 01 00 00 00 06 FF 03 00 00 00 01')
    put('00 02 00 00 00 06 00 03 00 00 00 01')
    put('00 03 00 00 00 06 12 03 00 00 00 01')
    expect(said).toEqual(['00 01 00 00 00 05 FF 03 02 00 07', '00 02 00 00 00 05 00 03 02 00 07'])
  })

  it('is a gateway to several: exception 0B for a unit that is not there', () => {
    const { put, said } = start(17, 18)
    put('00 01 00 00 00 06 13 03 00 00 00 01')
    expect(said).toEqual(['00 01 00 00 00 03 13 83 0B'])
  })

  it('is closed when the bytes are no Modbus TCP', () => {
    const { put, said, isClosed } = start(17)
    put('11 03 00 00 00 01 86 9A')
    expect(isClosed()).toBe(true)
    expect(said).toEqual([])
  })

  it('is closed when the message is of another protocol', () => {
    const { put, said, isClosed } = start(17)
    put('00 01 00 01 00 06 11 03 00 00 00 01')
    expect(isClosed()).toBe(true)
    expect(said).toEqual([])
  })
})
