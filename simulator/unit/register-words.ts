import type { ByteOrder, Register } from '../../app/profile/schema.ts'

type RegisterType = Register['type']
type Shape = Pick<Register, 'type' | 'order'>

export const wordCount = (type: RegisterType): number => (type === 'u16' || type === 'i16' ? 1 : 2)

/** Value bytes by significance (index 0 = A, the most significant) for each byte that travels. */
const significance = (order: ByteOrder): number[] => [...order].map((letter) => letter.charCodeAt(0) - 'A'.charCodeAt(0))

const rawBounds: Record<Exclude<RegisterType, 'f32'>, readonly [number, number]> = {
  u16: [0, 0xffff],
  i16: [-0x8000, 0x7fff],
  u32: [0, 0xffff_ffff],
  i32: [-0x8000_0000, 0x7fff_ffff],
}

/** Words on the wire for a raw number. Integers out of the type's range stop at its end. */
export const encodeWords = ({ type, order }: Shape, raw: number): number[] => {
  const bytes = new Uint8Array(order.length)
  const view = new DataView(bytes.buffer)
  if (type === 'f32') view.setFloat32(0, raw)
  else {
    const [lowest, highest] = rawBounds[type]
    const held = Math.min(highest, Math.max(lowest, Math.round(raw)))
    if (order.length === 2) view.setInt16(0, held)
    else view.setInt32(0, held)
  }
  const wire = significance(order).map((index) => bytes[index] ?? 0)
  return Array.from({ length: wire.length / 2 }, (_, i) => ((wire[2 * i] ?? 0) << 8) | (wire[2 * i + 1] ?? 0))
}

/** Raw number of the words that travelled; a float may be NaN or infinite. */
export const decodeWords = ({ type, order }: Shape, words: readonly number[]): number => {
  const wire = words.flatMap((word) => [word >>> 8, word & 0xff])
  const bytes = new Uint8Array(order.length)
  significance(order).forEach((index, i) => {
    bytes[index] = wire[i] ?? 0
  })
  const view = new DataView(bytes.buffer)
  switch (type) {
    case 'u16':
      return view.getUint16(0)
    case 'i16':
      return view.getInt16(0)
    case 'u32':
      return view.getUint32(0)
    case 'i32':
      return view.getInt32(0)
    case 'f32':
      return view.getFloat32(0)
  }
}

/** The bits `from` up to `from + width - 1` of a raw integer. */
export const fieldOf = (raw: number, field: Register['field']): number =>
  field === undefined ? raw : Math.floor((raw >>> 0) / 2 ** field.from) % 2 ** field.width

/** The raw integer with these bits replaced. */
export const withField = (raw: number, field: NonNullable<Register['field']>, value: number): number =>
  (raw >>> 0) + (value - fieldOf(raw, field)) * 2 ** field.from
