import { inOneRequest, planReads, type ReadBlock } from './plan-reads.ts'
import { type Profile, type Register, registerKey } from './schema.ts'
import { findRegister, siblingKey } from './settings.ts'

/** Registers that say in which decimals or unit this one is to be understood. */
export function meaningHolders(p: Profile, r: Register): Register[] {
  return [r.decimals, r.unit].flatMap((said) => {
    const key = typeof said === 'object' ? siblingKey(p, r, said.register) : undefined
    const holder = key === undefined ? undefined : findRegister(p, key)
    return holder && holder.access !== 'write' ? [holder] : []
  })
}

const unique = (registers: readonly Register[]) => [...new Map(registers.map((r) => [registerKey(r), r])).values()]

/** The same registers and all that change their meaning, wherever those stand. */
export const withHolders = (p: Profile, registers: readonly Register[]): Register[] =>
  unique([...registers, ...registers.flatMap((r) => meaningHolders(p, r))])

/**
 * Requests that read these registers, each with those that change its meaning in the same request where the limits allow:
 * a number read in one moment and its decimals in another can be wrong by a factor of ten.
 */
export function planWithMeaning(p: Profile, registers: readonly Register[]): ReadBlock[] {
  const near = registers.flatMap((r) =>
    meaningHolders(p, r)
      .filter((holder) => inOneRequest(r, holder, registers, p.requests))
      .map((holder) => [r, holder] as const),
  )
  const all = unique([...registers, ...near.map(([, holder]) => holder)])
  const inPlan = (r: Register) => all.find((x) => registerKey(x) === registerKey(r)) ?? r
  return planReads(
    all,
    p.requests,
    near.map(([r, holder]) => [inPlan(r), inPlan(holder)] as const),
  )
}
