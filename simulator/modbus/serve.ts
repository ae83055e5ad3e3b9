import { type Bank, type BitTable, isRefused, type Refused, type WordTable } from './bank.ts'
import { identificationAnswer } from './device-identification.ts'

const illegalFunction: Refused = { refused: 1 }
const illegalAddress: Refused = { refused: 2 }
const illegalValue: Refused = { refused: 3 }

/** The function codes below in one place: what a unit could be asked at all. */
export const allFunctions: readonly number[] = [0x01, 0x02, 0x03, 0x04, 0x05, 0x06, 0x07, 0x08, 0x0f, 0x10, 0x11, 0x16, 0x17, 0x2b]

const u16 = (pdu: Uint8Array, at: number): number => ((pdu[at] ?? 0) << 8) | (pdu[at + 1] ?? 0)
const wordsFrom = (pdu: Uint8Array, at: number, count: number): number[] => Array.from({ length: count }, (_, i) => u16(pdu, at + 2 * i))
const bytesOf = (words: readonly number[]): number[] => words.flatMap((word) => [word >>> 8, word & 0xff])
const pastTheEnd = (address: number, count: number): boolean => address + count > 0x10000

const packBits = (bits: readonly boolean[]): number[] => {
  const bytes = new Array<number>(Math.ceil(bits.length / 8)).fill(0)
  bits.forEach((on, i) => {
    if (on) bytes[i >>> 3] = (bytes[i >>> 3] ?? 0) | (1 << (i & 7))
  })
  return bytes
}

type Body = readonly number[] | Refused

const readBits = (bank: Bank, table: BitTable, pdu: Uint8Array): Body => {
  const [address, count] = [u16(pdu, 1), u16(pdu, 3)]
  if (pdu.length !== 5 || count < 1 || count > 2000) return illegalValue
  if (pastTheEnd(address, count)) return illegalAddress
  const bits = bank.readBits(table, address, count)
  if (isRefused(bits)) return bits
  const packed = packBits(bits)
  return [packed.length, ...packed]
}

const readWords = (bank: Bank, table: WordTable, pdu: Uint8Array): Body => {
  const [address, count] = [u16(pdu, 1), u16(pdu, 3)]
  if (pdu.length !== 5 || count < 1 || count > Math.min(125, bank.longest.read)) return illegalValue
  if (pastTheEnd(address, count)) return illegalAddress
  const words = bank.readWords(table, address, count)
  return isRefused(words) ? words : [2 * count, ...bytesOf(words)]
}

const writeCoil = (bank: Bank, pdu: Uint8Array): Body => {
  const value = u16(pdu, 3)
  if (pdu.length !== 5 || (value !== 0 && value !== 0xff00)) return illegalValue
  return bank.addressRefusal('coil', u16(pdu, 1), 1) ?? bank.writeBits(u16(pdu, 1), [value !== 0]) ?? [...pdu.subarray(1)]
}

const writeWord = (bank: Bank, pdu: Uint8Array): Body => {
  if (pdu.length !== 5) return illegalValue
  return bank.addressRefusal('holding', u16(pdu, 1), 1) ?? bank.writeWords(u16(pdu, 1), [u16(pdu, 3)]) ?? [...pdu.subarray(1)]
}

const writeCoils = (bank: Bank, pdu: Uint8Array): Body => {
  const [address, count, bytes] = [u16(pdu, 1), u16(pdu, 3), pdu[5] ?? 0]
  if (count < 1 || count > 1968 || bytes !== Math.ceil(count / 8) || pdu.length !== 6 + bytes) return illegalValue
  if (pastTheEnd(address, count)) return illegalAddress
  const bits = Array.from({ length: count }, (_, i) => (((pdu[6 + (i >>> 3)] ?? 0) >>> (i & 7)) & 1) === 1)
  return bank.addressRefusal('coil', address, count) ?? bank.writeBits(address, bits) ?? [...pdu.subarray(1, 5)]
}

const writeWords = (bank: Bank, pdu: Uint8Array): Body => {
  const [address, count] = [u16(pdu, 1), u16(pdu, 3)]
  if (count < 1 || count > Math.min(123, bank.longest.write) || pdu[5] !== 2 * count || pdu.length !== 6 + 2 * count) return illegalValue
  if (pastTheEnd(address, count)) return illegalAddress
  return bank.addressRefusal('holding', address, count) ?? bank.writeWords(address, wordsFrom(pdu, 6, count)) ?? [...pdu.subarray(1, 5)]
}

const maskWrite = (bank: Bank, pdu: Uint8Array): Body => {
  if (pdu.length !== 7) return illegalValue
  const [address, and, or] = [u16(pdu, 1), u16(pdu, 3), u16(pdu, 5)]
  const refusal = bank.addressRefusal('holding', address, 1)
  if (refusal) return refusal
  const present = bank.readWords('holding', address, 1)
  if (isRefused(present)) return present
  const next = ((present[0] ?? 0) & and) | (or & ~and & 0xffff)
  return bank.writeWords(address, [next]) ?? [...pdu.subarray(1)]
}

const readWriteWords = (bank: Bank, pdu: Uint8Array): Body => {
  const [readAt, readCount, writeAt, writeCount] = [u16(pdu, 1), u16(pdu, 3), u16(pdu, 5), u16(pdu, 7)]
  if (readCount < 1 || readCount > Math.min(125, bank.longest.read)) return illegalValue
  if (writeCount < 1 || writeCount > Math.min(121, bank.longest.write)) return illegalValue
  if (pdu[9] !== 2 * writeCount || pdu.length !== 10 + 2 * writeCount) return illegalValue
  if (pastTheEnd(readAt, readCount) || pastTheEnd(writeAt, writeCount)) return illegalAddress
  const before = bank.readWords('holding', readAt, readCount)
  if (isRefused(before)) return before
  const refusal = bank.addressRefusal('holding', writeAt, writeCount) ?? bank.writeWords(writeAt, wordsFrom(pdu, 10, writeCount))
  if (refusal) return refusal
  const words = bank.readWords('holding', readAt, readCount)
  return isRefused(words) ? words : [2 * readCount, ...bytesOf(words)]
}

const diagnostics = (pdu: Uint8Array): Body => {
  if (pdu.length < 3 || u16(pdu, 1) !== 0) return illegalFunction
  return pdu.length < 5 ? illegalValue : [...pdu.subarray(1)]
}

const carryOut = (bank: Bank, pdu: Uint8Array): Body => {
  switch (pdu[0]) {
    case 0x01:
      return readBits(bank, 'coil', pdu)
    case 0x02:
      return readBits(bank, 'discrete', pdu)
    case 0x03:
      return readWords(bank, 'holding', pdu)
    case 0x04:
      return readWords(bank, 'input', pdu)
    case 0x05:
      return writeCoil(bank, pdu)
    case 0x06:
      return writeWord(bank, pdu)
    case 0x07:
      return pdu.length === 1 ? [bank.exceptionStatus() & 0xff] : illegalValue
    case 0x08:
      return diagnostics(pdu)
    case 0x0f:
      return writeCoils(bank, pdu)
    case 0x10:
      return writeWords(bank, pdu)
    case 0x11: {
      const bytes = bank.serverId()
      return pdu.length === 1 ? [bytes.length, ...bytes] : illegalValue
    }
    case 0x16:
      return maskWrite(bank, pdu)
    case 0x17:
      return readWriteWords(bank, pdu)
    case 0x2b:
      return identificationAnswer(bank.identification(), pdu)
    default:
      return illegalFunction
  }
}

/** The exception answer to a request of this function. */
export const exceptionAnswer = (functionCode: number, code: number): Uint8Array => Uint8Array.of(functionCode | 0x80, code)

/**
 * Carries out one request PDU and gives the answer PDU. Checks come in the order of the specification: function (01),
 * quantity, byte count and value (03), address (02), execution.
 * Source: MODBUS Application Protocol V1.1b3, chapters 6 and 7.
 */
export const serve = (bank: Bank, pdu: Uint8Array): Uint8Array => {
  const functionCode = pdu[0] ?? 0
  const body = bank.knows(functionCode) ? carryOut(bank, pdu) : illegalFunction
  return isRefused(body) ? exceptionAnswer(functionCode, body.refused) : Uint8Array.of(functionCode, ...body)
}
