import { sameValue } from './same-value.ts'

type Fields = Readonly<Record<string, unknown>>
/** A quantity is one value: its number never goes with another unit. */
const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value) && !('unit' in value)

/**
 * A change that was made on `base`, carried over to what stands now: only where it differs from `base` does it decide, so that of two changes
 * to parts of one thing the later does not take back the earlier. Lists go item by item while all three are equally long, else whole.
 */
export function rebased<C extends object>(change: C, base: object, now: object): C {
  const [before, after] = [base as Fields, now as Fields]
  return Object.fromEntries(Object.entries(change).map(([key, wanted]) => [key, carried(wanted, before[key], after[key])])) as C
}

function carried(wanted: unknown, base: unknown, now: unknown): unknown {
  if (sameValue(wanted, base)) return now
  if (Array.isArray(wanted) && Array.isArray(base) && Array.isArray(now)) {
    if (wanted.length !== base.length || now.length !== base.length) return wanted
    return wanted.map((item, i) => carried(item, base[i], now[i]))
  }
  if (!isFields(wanted) || !isFields(base) || !isFields(now)) return wanted
  const keys = new Set([...Object.keys(wanted), ...Object.keys(now)])
  const fields = [...keys].map((key) => [key, carried(wanted[key], base[key], now[key])] as const)
  return Object.fromEntries(fields.filter(([, value]) => value !== undefined))
}
