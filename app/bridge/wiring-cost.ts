import type { Wired } from '../job/wiring.ts'
import { quantityIn } from '../quantity/convert.ts'
import { exact, toDecimal } from '../quantity/exact.ts'
import { fail, ok, type Result } from '../result.ts'
import { leadsLeave, type PointWiringFailure, pointLeads, type WiredCertificate } from './point-wiring.ts'

export type WiringCost = {
  /** What the leads take from the span together, percent. */
  lossPercent: number
  /** What each part would take by itself; they do not add up exactly. `ohms` is that of one lead. */
  parts: { what: string; ohms: number; lossPercent: number }[]
  /** By how much the span falls when the copper warms by ten kelvin, percent. */
  per10K: number
}

type Part = { what: string; only: Wired }

/** The wiring with one part of it alone. */
function partsOf(wired: Wired): Part[] {
  const { cable, sensorExtension, ownCable, series, ...bare } = wired
  return [
    ...(cable ? [{ what: 'cable', only: { ...bare, cable } }] : []),
    ...(sensorExtension ? [{ what: 'extension of each sensor', only: { ...bare, sensorExtension } }] : []),
    ...(ownCable ? [{ what: "change of the sensor's own cable", only: { ...bare, ownCable } }] : []),
    ...(series ?? []).map((part) => ({ what: part.what || 'series part', only: { ...bare, series: [part] } })),
  ]
}

function warmer(wired: Wired): Wired {
  const now = wired.temperature ? quantityIn(wired.temperature, 'degC') : ok(exact('20'))
  return now.ok ? { ...wired, temperature: { value: toDecimal(now.value.add(exact('10')), 3), unit: 'degC' } } : wired
}

/** What cable and other series ohms cost, all together and each by itself. Source: circuit theory; worked cases LW-1 and LW-2 in the tests. */
export function wiringCost(wired: Wired, certificates: readonly WiredCertificate[]): Result<WiringCost, PointWiringFailure> {
  const all = leadsLeave(wired, certificates)
  if (!all.ok) return all
  const parts: WiringCost['parts'] = []
  for (const { what, only } of partsOf(wired)) {
    const [left, leads] = [leadsLeave(only, certificates), pointLeads(only, certificates.length)]
    if (!left.ok) return left
    if (!leads.ok) return leads
    const ohms = [leads.value.homeRun, leads.value.sensor].flatMap((l) => (l ? [l.extension, l.other ?? 0, l.ownCableChange ?? 0] : []))
    parts.push({ what, ohms: ohms.reduce((a, b) => a + b, 0), lossPercent: (1 - left.value.span) * 100 })
  }
  const hot = leadsLeave(warmer(wired), certificates)
  if (!hot.ok) return fail(hot.failure)
  return ok({ lossPercent: (1 - all.value.span) * 100, parts, per10K: (1 - hot.value.span / all.value.span) * 100 })
}
