import type { Request } from './request.ts'

/** Function number of a request. Source: MODBUS Application Protocol V1.1b3, section 6. */
export function functionCode(request: Request): number {
  switch (request.kind) {
    case 'read-bits':
      return request.table === 'coil' ? 1 : 2
    case 'read-registers':
      return request.table === 'holding' ? 3 : 4
    case 'write-coil':
      return 5
    case 'write-register':
      return 6
    case 'write-coils':
      return 15
    case 'write-registers':
      return 16
    case 'server-id':
      return 17
    case 'mask-write':
      return 22
    case 'device-identification':
      return 43
  }
}

/** True where the request changes nothing in the unit, so that it may be asked again. */
export function onlyReads(request: Request): boolean {
  switch (request.kind) {
    case 'read-bits':
    case 'read-registers':
    case 'device-identification':
    case 'server-id':
      return true
    case 'write-coil':
    case 'write-register':
    case 'write-coils':
    case 'write-registers':
    case 'mask-write':
      return false
  }
}

/**
 * Function number and data of a request, without unit and CRC; 16-bit fields high byte first.
 * Limits: MODBUS Application Protocol V1.1b3, 6.1 to 6.16. Throws RangeError where a request breaks them.
 */
export function encodePdu(request: Request): Uint8Array {
  const code = functionCode(request)
  switch (request.kind) {
    case 'read-bits':
      within('count', request.count, 1, 2000)
      return Uint8Array.of(code, ...word(request.address), ...word(request.count))
    case 'read-registers':
      within('count', request.count, 1, 125)
      return Uint8Array.of(code, ...word(request.address), ...word(request.count))
    case 'write-coil':
      return Uint8Array.of(code, ...word(request.address), request.on ? 0xff : 0, 0)
    case 'write-register':
      return Uint8Array.of(code, ...word(request.address), ...word(request.word))
    case 'write-coils': {
      within('count', request.on.length, 1, 1968)
      const packed = packBits(request.on)
      return Uint8Array.of(code, ...word(request.address), ...word(request.on.length), packed.length, ...packed)
    }
    case 'write-registers':
      within('count', request.words.length, 1, 123)
      return Uint8Array.of(
        code,
        ...word(request.address),
        ...word(request.words.length),
        request.words.length * 2,
        ...request.words.flatMap(word),
      )
    case 'mask-write':
      return Uint8Array.of(code, ...word(request.address), ...word(request.and), ...word(request.or))
    case 'device-identification':
      within('object', request.object, 0, 255)
      return Uint8Array.of(code, 0x0e, request.code, request.object)
    case 'server-id':
      return Uint8Array.of(code)
  }
}

const word = (value: number): [number, number] => {
  within('16-bit field', value, 0, 0xffff)
  return [value >> 8, value & 0xff]
}

function packBits(on: readonly boolean[]): Uint8Array {
  const packed = new Uint8Array(Math.ceil(on.length / 8))
  for (const [i, bit] of on.entries()) if (bit) packed[i >> 3] = (packed[i >> 3] ?? 0) | (1 << (i & 7))
  return packed
}

function within(what: string, value: number, least: number, most: number): void {
  if (!Number.isInteger(value) || value < least || value > most) throw new RangeError(`${what} ${value} is not ${least} to ${most}`)
}
