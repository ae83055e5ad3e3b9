import type { IndicatorView } from '../../app/contract/views.ts'
import type { CommandName } from '../../app/profile/schema.ts'
import type { Refusal } from './session-move.ts'
import type { SessionState } from './session-state.ts'

const underWay = 'A write is under way; wait until it has ended.'
const interrupted = 'An earlier write was interrupted. Restore, complete or leave it first.'

const sealedWhy = (seals: string) => `The indicator is sealed (${seals}). Writing needs a name, a reason and the seal numbers.`

export const beingWritten: Refusal = { kind: 'refused-request', why: underWay }

/** Why no other write may begin now; null where one may. */
export function busyWriting({ writing, openWrite }: IndicatorView): string | null {
  if (writing) return underWay
  return openWrite ? interrupted : null
}

/** Why this indicator must not be written now; null where it may. An interrupted write bars every other one, unless it is `resolving` that. */
export function writeForbidden({ options: { indicator, profile }, view: now }: SessionState, resolving = false): string | null {
  const { writing, openWrite, identity } = now()
  if (writing) return underWay
  if (indicator.sealed && !indicator.sealed.broken) return sealedWhy(indicator.sealed.seals)
  if (openWrite && !resolving) return interrupted
  if (identity.outcome === 'contradicted')
    return `The unit is not ${profile.name}: ${identity.tests
      .filter((t) => !t.agrees)
      .map((t) => `${t.register} reads ${t.got}, not ${t.expected}`)
      .join('; ')}.`
  if (identity.outcome !== 'confirmed')
    return 'The unit is not identified. Identify it, or compare three register values with its front panel.'
  return null
}

/** Why this command must not be sent now; null where it may. */
export function commandForbidden({ options: { indicator, profile }, view: now }: SessionState, name: CommandName): string | null {
  if (!profile.commands[name]) return `This indicator has no ${name} command over the bus.`
  if (now().writing) return underWay
  if (indicator.sealed && !indicator.sealed.broken) return sealedWhy(indicator.sealed.seals)
  return now().identity.outcome === 'confirmed' ? null : 'The unit is not identified.'
}
