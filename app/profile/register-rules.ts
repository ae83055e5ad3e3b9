import type { Register } from './schema.ts'

type Shape = Pick<Register, 'table' | 'address' | 'type' | 'order' | 'field' | 'bits' | 'access'>

export const isBitTable = (table: Register['table']): boolean => table === 'coil' || table === 'discrete'

/** Bits of the raw value of this type: 16 or 32, and 1 for a coil or discrete input. */
export const bitWidth = (r: Pick<Register, 'type' | 'table'>): number =>
  isBitTable(r.table) ? 1 : r.type === 'u16' || r.type === 'i16' ? 16 : 32

/** Addresses that a register takes. */
export const addressCount = (r: Pick<Register, 'type' | 'table'>): number => (bitWidth(r) === 32 ? 2 : 1)

/** Contradictions inside one register, each with the key that is wrong and what would be right. */
export function contradictions(r: Omit<Register, 'takesEffect' | 'readBack'>): { path: (string | number)[]; message: string }[] {
  const found: { path: (string | number)[]; message: string }[] = []
  const say = (path: (string | number)[], message: string) => found.push({ path, message })
  const width = bitWidth(r)
  if (r.address + addressCount(r) > 0x10000) say(['address'], 'a value of two registers starts at 65534 at the latest')
  if (isBitTable(r.table)) {
    if (r.type !== 'u16') say(['type'], `a ${r.table} is one bit: say u16 with AB`)
    if (r.field) say(['field'], `a ${r.table} is one bit: leave this out`)
    if (r.decimals !== undefined && r.decimals !== 0) say(['decimals'], `a ${r.table} is one bit: leave this out`)
  }
  if (r.field && r.field.from + r.field.width > width)
    say(['field', 'width'], `${r.type} has bits 0 to ${width - 1}: ${r.field.width} bits from ${r.field.from} go beyond`)
  r.bits?.forEach((b, i) => {
    if (b.bit >= width) say(['bits', i, 'bit'], `${r.type} has bits 0 to ${width - 1}`)
    if (r.bits?.findIndex((other) => other.bit === b.bit) !== i) say(['bits', i, 'bit'], `bit ${b.bit} has a name already`)
  })
  const highest = 2 ** (r.field?.width ?? width) - 1
  r.options?.forEach((o, i) => {
    if (o.raw > highest) say(['options', i, 'raw'], `the largest code that fits is ${highest}`)
    if (r.options?.findIndex((other) => other.raw === o.raw) !== i) say(['options', i, 'raw'], `code ${o.raw} has a meaning already`)
    if (r.options?.findIndex((other) => other.means === o.means) !== i) say(['options', i, 'means'], `${o.means} has a code already`)
  })
  if (r.limits && Number(r.limits.from) > Number(r.limits.to)) say(['limits', 'to'], `not below ${r.limits.from}`)
  return found
}

/** Bits of the raw value that a register uses; undefined where it uses them all. */
const bitsUsed = (r: Shape): number[] | undefined =>
  r.field ? Array.from({ length: r.field.width }, (_, i) => (r.field?.from ?? 0) + i) : r.bits?.map((b) => b.bit)

/** A command and an answer may have one address; otherwise a word is shared only by bits that nobody else uses. */
function maySharePlace(a: Shape, b: Shape): boolean {
  if (a.access !== b.access && (a.access === 'write' || b.access === 'write') && (a.access === 'read' || b.access === 'read')) return true
  if (a.address !== b.address || bitWidth(a) !== bitWidth(b) || a.order !== b.order) return false
  const [ofA, ofB] = [bitsUsed(a), bitsUsed(b)]
  return ofA !== undefined && ofB !== undefined && !ofA.some((bit) => ofB.includes(bit))
}

/** Pairs of registers that claim the same words without being different bits of one value; indices, the later one first. */
export function overlaps(registers: readonly Shape[]): [number, number][] {
  const found: [number, number][] = []
  registers.forEach((r, i) => {
    for (let j = 0; j < i; j++) {
      const other = registers[j]
      if (!other || other.table !== r.table) continue
      const apart = r.address >= other.address + addressCount(other) || other.address >= r.address + addressCount(r)
      if (!apart && !maySharePlace(r, other)) found.push([i, j])
    }
  })
  return found
}
