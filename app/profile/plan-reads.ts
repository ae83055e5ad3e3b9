import type { Profile, Register } from './schema.ts'
import { wordCount } from './words.ts'

/** One read request and the registers that it brings. `count` is in words, or bits for coils and discrete inputs. */
export type ReadBlock = { table: Register['table']; address: number; count: number; registers: Register[] }

const size = (r: Register) => (r.table === 'coil' || r.table === 'discrete' ? 1 : wordCount(r.type))

/**
 * Fewest requests that read these registers within the profile's limits: blocks of one table, no longer than
 * `longestRead`, reading over at most `readOver` unused registers, never splitting a value.
 * Greedy from the lowest address is optimal here, since a block's cost does not depend on where it ends.
 */
export function planReads(registers: readonly Register[], limits: Pick<Profile['requests'], 'longestRead' | 'readOver'>): ReadBlock[] {
  const blocks: ReadBlock[] = []
  const inOrder = [...registers].sort((a, b) => a.table.localeCompare(b.table) || a.address - b.address)
  for (const r of inOrder) {
    const open = blocks.at(-1)
    const end = Math.max(open ? open.address + open.count : 0, r.address + size(r))
    const joins =
      open &&
      open.table === r.table &&
      r.address - (open.address + open.count) <= limits.readOver &&
      end - open.address <= limits.longestRead
    if (joins) {
      open.count = end - open.address
      open.registers.push(r)
    } else blocks.push({ table: r.table, address: r.address, count: size(r), registers: [r] })
  }
  return blocks
}
