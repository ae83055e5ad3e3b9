import { isFor } from '../../app/job/intended.ts'
import { sentence } from '../../app/sentence.ts'
import type { KnownIndicator } from '../state/use-indicators.ts'

/** How many points are meant, for how many of them something is intended, and how many indicators the job has. */
export type Scope = { points: number; intending: number; indicators: number }

type Said = { text: string; count: number; differing: string[] }

/** The one point meant: it may share its indicator, all of which is written together; of its settings, how many are not as found. */
type One = { channel: number; sinceFound: number | null }

/** Whether indicators hold what is intended. `whose` is "WT-101: ", "These 3: ", or nothing where all are meant. */
export function sayHeld(states: readonly KnownIndicator[], whose: string, scope: Scope, one?: One): Said {
  const unread = states.filter((s) => !s.state?.held).length
  const differing = states.filter((s) => (s.state?.differs.length ?? 0) > 0)
  const count = differing.reduce((sum, s) => sum + (s.state?.differs.length ?? 0), 0)
  const several = states.length > 1
  const say = (text: string): Said => ({ text: whose + (whose ? text : sentence(text)), count, differing: differing.map((s) => s.id) })
  if (states.length === 0) return say(noIndicator(scope))
  if (count > 0) {
    const differ = (n: number) => `${n} ${n === 1 ? 'setting differs' : 'settings differ'} from what is intended`
    const what = differ(count)
    const own = one ? differing.flatMap((s) => s.state?.differs ?? []).filter((d) => isFor(d.key, one.channel)).length : count
    if (own < count) return say(`${own === 0 ? 'nothing differs' : differ(own)}, ${count - own} of other points on its indicator`)
    return say(several ? `${what}, in ${differing.length} of ${states.length} indicators` : what)
  }
  if (unread > 0)
    return say(several ? `settings of ${unread} of ${states.length} indicators are not read yet` : 'settings are not read yet')
  const { points, intending } = scope
  if (intending === 0) return say(`nothing is intended yet${one ? indicatorIs(one) : ''}`)
  const rest = points - intending
  if (rest > 0)
    return say(
      `what is intended is held at ${intending} of ${points} points; nothing is intended yet for the other${rest === 1 ? '' : ` ${rest}`}`,
    )
  return say(several ? 'the indicators hold what is intended' : 'the indicator holds what is intended')
}

const indicatorIs = ({ sinceFound }: One): string =>
  sinceFound === null
    ? ''
    : sinceFound === 0
      ? '; the indicator is as found'
      : `; ${sinceFound} ${sinceFound === 1 ? 'setting is' : 'settings are'} not as found`

function noIndicator({ points, indicators }: Scope): string {
  if (points === 0) return 'no measuring point yet'
  const typed = 'checks are made with typed readings'
  return indicators === 0 ? `no indicator; ${typed}` : `no indicator assigned yet; until then ${typed}`
}
