import { addressCount, isBitTable } from './register-rules.ts'
import type { Profile, Register } from './schema.ts'

/** One read request and the registers that it brings. `count` is in words, or bits for coils and discrete inputs. */
export type ReadBlock = { table: Register['table']; address: number; count: number; registers: Register[] }

type Limits = Pick<Profile['requests'], 'longestRead' | 'readOver'>
type Span = { table: Register['table']; from: number; to: number; registers: Register[] }

/** Bits come sixteen to a word of the answer, and 2000 at most (MODBUS Application Protocol V1.1b3, 6.1 and 6.2). */
const longest = (table: Register['table'], limits: Limits) =>
  isBitTable(table) ? Math.min(2000, 16 * limits.longestRead) : limits.longestRead

const spanOf = (r: Register): Span => ({ table: r.table, from: r.address, to: r.address + addressCount(r), registers: [r] })

const joined = (a: Span, b: Span): Span => ({
  table: a.table,
  from: Math.min(a.from, b.from),
  to: Math.max(a.to, b.to),
  registers: [...a.registers, ...b.registers],
})

/** Can one request bring this span, when these registers are known to be there? */
function fits(span: Span, there: readonly Register[], limits: Limits): boolean {
  if (span.to - span.from > longest(span.table, limits)) return false
  const inside = [...there, ...span.registers].filter((r) => r.table === span.table && r.address < span.to && spanOf(r).to > span.from)
  let reached = span.from
  for (const r of inside.sort((a, b) => a.address - b.address)) {
    if (r.address - reached > limits.readOver) return false
    reached = Math.max(reached, spanOf(r).to)
  }
  return true
}

/** Can these two be read in one request? `there` are registers that are read anyway. */
export function inOneRequest(a: Register, b: Register, there: readonly Register[], limits: Limits): boolean {
  return a.table === b.table && fits(joined(spanOf(a), spanOf(b)), there, limits)
}

/**
 * Few requests that read these registers within the profile's limits: blocks of one table, no longer than
 * `longestRead`, reading over at most `readOver` unused registers, never splitting a value.
 * Pairs named in `together` come in one request where the limits allow it: one changes what the other means.
 * Greedy from the lowest address; the fewest requests where nothing has to stay together.
 */
export function planReads(
  registers: readonly Register[],
  limits: Limits,
  together: readonly (readonly [Register, Register])[] = [],
): ReadBlock[] {
  const spans = new Set(registers.map(spanOf))
  const find = (r: Register) => [...spans].find((s) => s.registers.includes(r))
  const width = ([a, b]: readonly [Register, Register]) => Math.abs(a.address - b.address)
  for (const [a, b] of [...together].sort((x, y) => width(x) - width(y))) {
    const [one, other] = [find(a), find(b)]
    if (!one || !other || one === other || one.table !== other.table) continue
    const both = joined(one, other)
    if (!fits(both, registers, limits)) continue
    spans.delete(one)
    spans.delete(other)
    spans.add(both)
  }
  const blocks: Span[] = []
  for (const span of [...spans].sort((a, b) => a.table.localeCompare(b.table) || a.from - b.from)) {
    const open = blocks.at(-1)
    const joins =
      open &&
      open.table === span.table &&
      span.from - open.to <= limits.readOver &&
      Math.max(open.to, span.to) - open.from <= longest(span.table, limits)
    if (joins) blocks[blocks.length - 1] = joined(open, span)
    else blocks.push(span)
  }
  return blocks.map((b) => ({ table: b.table, address: b.from, count: b.to - b.from, registers: b.registers }))
}
