import type { EntrySheetView } from '../contract/entry-sheet-calls.ts'
import type { Indicator, Point } from '../job/schema.ts'
import { isScaling } from '../profile/scaling-registers.ts'
import { type Profile, registerKey } from '../profile/schema.ts'
import { settingWords } from '../profile/setting-words.ts'
import { settingRegisters, unitFrom } from '../profile/settings.ts'
import { toDecimal } from '../quantity/exact.ts'
import { fail, ok, type Result } from '../result.ts'
import { intendedOffer, offersOf } from './intended-offer.ts'
import { measuredAt, proposeScaling, type ScalingProposal } from './propose-scaling.ts'
import { explainScalingFailure } from './scaling-failure.ts'

/** Does somebody have to type the scaling at the front panel, since no bus takes it? */
export const isSetAtPanel = (profile: Profile | undefined): boolean => profile?.scaling.model === 'front-panel-entry'

/** What to type at an indicator; fails with a sentence where the scaling cannot be computed. */
export function entrySheet(point: Point, indicator: Indicator, profile: Profile): Result<EntrySheetView, string> {
  const proposed = proposeScaling(point, profile, measuredAt(point))
  if (!proposed.ok) return fail(explainScalingFailure(proposed.failure))
  const { value } = proposed
  const isIntended = Object.keys(point.intended).some(isScaling)
  const agreed = isIntended ? intendedOffer(point.intended, offersOf(value)) : value.pairs
  const pairs = agreed ?? value.pairs
  const { atMaximum } = pairs.rounding
  const values = isIntended ? point.intended : value.intended
  const panel = value.entries
  return ok({
    pointId: point.id,
    tag: point.tag,
    name: point.name,
    indicator: { id: indicator.id, name: indicator.name, unit: indicator.unit, profile: profile.id, model: profile.name },
    order: panel ? 'panel' : 'settings',
    digitsKnown: panel?.digitsKnown ?? true,
    from: isIntended ? 'intended' : 'computed',
    lines: panel ? panelLines(panel.list, point, profile) : settingLines(values, point, profile),
    captures: value.captures ?? [],
    line: { lower: pairs.lower, upper: pairs.upper, signalUnit: pairs.signalUnit, readingUnit: pairs.readingUnit },
    rounding: {
      units: toDecimal(atMaximum.units, (point.scaleInterval.split('.')[1]?.length ?? 0) + 2),
      intervals: toDecimal(atMaximum.intervals, 2),
      percent: toDecimal(atMaximum.percent, 4),
      unit: point.unit,
    },
    warnings: [...(agreed ? [] : [movedOn(point)]), ...value.warnings.map((w) => w.why)],
  })
}

type Line = EntrySheetView['lines'][number]

const panelLines = (list: NonNullable<ScalingProposal['entries']>['list'], point: Point, profile: Profile): Line[] =>
  list.map(({ key, label, type, unit }) => ({
    key,
    label,
    words: settingWords(key, profile.channels),
    type: point.intended[key] ?? type,
    ...(unit ? { unit } : {}),
  }))

/** Settings that the job decides, in the profile's order; what is not decided is left alone. */
const settingLines = (values: Readonly<Record<string, string>>, point: Point, profile: Profile): Line[] =>
  settingRegisters(profile)
    .filter((r) => (r.channel ?? point.channel) === point.channel)
    .flatMap((r) => {
      const key = registerKey(r)
      const type = values[key]
      const unit = r.options ? undefined : unitFrom(profile, r, (k) => values[k])
      return type === undefined ? [] : [{ key, label: null, words: settingWords(key, profile.channels), type, ...(unit ? { unit } : {}) }]
    })

const movedOn = (point: Point) =>
  `What is intended for ${point.tag} is not what its certificates and measurements give now. Settle which of the two is meant before typing.`
