import type { LeadRole, Wired } from '../../../app/job/wiring.ts'
import type { PointView } from '../../state/point-view.ts'

const order: readonly { role: LeadRole; says: string }[] = [
  { role: 'excitation+', says: 'feeds the bridge' },
  { role: 'sense+', says: 'tells the voltage where it joins' },
  { role: 'signal+', says: 'rises with what is applied' },
  { role: 'signal-', says: 'other side of the signal' },
  { role: 'sense-', says: 'tells the voltage where it joins' },
  { role: 'excitation-', says: 'return of the feed' },
  { role: 'shield', says: 'at one end only' },
]

/** Leads that the cable has, top to bottom as they are drawn. */
export const rolesOf = (wired: Wired) => order.filter(({ role }) => wired.wires === 6 || !role.startsWith('sense'))

export const roleWords = (role: LeadRole) => role.replace('+', ' +').replace(/-$/, ' \u2212')

/** Terminal of this profile for a lead; undefined where it states none. */
export function terminalOf({ profile, point }: PointView, role: LeadRole): string | undefined {
  const own = profile?.terminals.filter((t) => t.channel === undefined || t.channel === point.channel)
  return own?.find((t) => t.role === role)?.label
}
