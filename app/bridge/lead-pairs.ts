import type { Certificate } from '../job/schema.ts'
import type { LeadRole, Wired } from '../job/wiring.ts'
import { quantityIn } from '../quantity/convert.ts'
import { type Ohms, ohms } from '../quantity/double.ts'
import type { QuantityText } from '../quantity/quantity-text.ts'
import { ok, type Result } from '../result.ts'
import { type ExpectedOhms, expectedOhms, type StatedOhms } from './expected-ohms.ts'
import type { Lead } from './lead-loss.ts'
import { type PointWiringFailure, pointLeads } from './point-wiring.ts'

/** Two leads of the cable with the indicator lifted off, and what an ohmmeter is to show between them. */
export type LeadPair = {
  pair: readonly [LeadRole, LeadRole]
  /** Key under which a measured value is kept. */
  key: string
  expected:
    | { kind: 'band'; from: Ohms; to: Ohms; approximate: boolean }
    /** Two leads that are joined at the far end. */
    | { kind: 'at-most'; to: Ohms }
    /** No path at all. */
    | { kind: 'open' }
    | { kind: 'not-stated' }
}

/** With the meter's own leads and clamps some ohms more (common practice, no source). */
const clampOhms = 1

const total = (lead: Lead | undefined) => (lead?.extension ?? 0) + (lead?.other ?? 0) + (lead?.ownCableChange ?? 0)
const inOhms = (quantity: QuantityText | undefined): Ohms | undefined => {
  const value = quantity && quantityIn(quantity, 'ohm')
  return value?.ok ? ohms(value.value.valueOf()) : undefined
}

function statedOhms(c: Certificate, lead: number): StatedOhms {
  const entries = {
    input: inOhms(c.inputResistance),
    output: inOhms(c.outputResistance),
    inputTolerance: inOhms(c.inputResistanceTolerance),
    outputTolerance: inOhms(c.outputResistanceTolerance),
  }
  return { ...Object.fromEntries(Object.entries(entries).filter(([, value]) => value !== undefined)), lead: ohms(lead) }
}

const roleOrder: readonly LeadRole[] = ['excitation+', 'sense+', 'signal+', 'signal-', 'sense-', 'excitation-']
const side = (role: LeadRole) => role.replace(/[+-]$/, '')
/** A sense lead is its excitation lead from where the two join. */
const asExcitation = (role: LeadRole): LeadRole => (role === 'sense+' ? 'excitation+' : role === 'sense-' ? 'excitation-' : role)

/**
 * Every pair of leads at the indicator's end of the cable, leads lifted, power off; the shield against all of them last.
 * Units: ohm. Bands as in `expectedOhms`; pairs with a sense lead as those of the excitation lead it joins, their leads alike.
 */
export function leadPairs(wired: Wired, certificates: readonly Certificate[]): Result<LeadPair[], PointWiringFailure> {
  const leads = pointLeads(wired, certificates.length)
  if (!leads.ok) return leads
  const { homeRun, sensor } = leads.value
  const list = expectedOhms(
    certificates.map((c) => statedOhms(c, total(sensor))),
    ohms(total(homeRun)),
  )
  const roles = roleOrder.filter((role) => wired.wires === 6 || side(role) !== 'sense')
  const joined = 2 * (total(homeRun) + (wired.senseAt === 'sensor' && homeRun ? total(sensor) : homeRun ? 0 : total(sensor)))
  const pairs: LeadPair[] = []
  for (const [i, a] of roles.entries()) for (const b of roles.slice(i + 1)) pairs.push(pairOf(a, b, list, joined))
  return ok([...pairs, { pair: ['shield', 'excitation+'], key: 'shield', expected: { kind: 'open' } }])
}

function pairOf(a: LeadRole, b: LeadRole, list: readonly ExpectedOhms[], joined: number): LeadPair {
  const key = `${a} ${b}`
  const [x, y] = [asExcitation(a), asExcitation(b)]
  if (x === y) return { pair: [a, b], key, expected: { kind: 'at-most', to: ohms(joined + clampOhms) } }
  const between = side(x) === side(y) ? side(x) : 'excitation and signal'
  const found = list.find((e) => e.between === between)
  if (!found) return { pair: [a, b], key, expected: { kind: 'not-stated' } }
  return { pair: [a, b], key, expected: { kind: 'band', from: found.from, to: found.to, approximate: found.approximate } }
}

export type OhmsVerdict = 'within' | 'outside' | 'not-judged'

/** A measured value against its band. Where no tolerance is stated the band has no width and nothing is judged. */
export function judgeOhms(expected: LeadPair['expected'], measured: number): OhmsVerdict {
  if (expected.kind === 'at-most') return measured <= expected.to ? 'within' : 'outside'
  if (expected.kind === 'open') return 'outside'
  if (expected.kind === 'not-stated' || expected.from === expected.to) return 'not-judged'
  return measured >= expected.from && measured <= expected.to ? 'within' : 'outside'
}
