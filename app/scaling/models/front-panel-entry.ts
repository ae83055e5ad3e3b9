import { type Profile, type Register, registerKey } from '../../profile/schema.ts'
import type { UnitId } from '../../quantity/units.ts'
import { ok } from '../../result.ts'
import { type FitContext, type ScalingModel, signalUnitOf } from '../scaling-model.ts'
import { capacityRatedOutput } from './capacity-rated-output.ts'
import { twoPairs } from './two-pairs.ts'

type Ask = { label: string; means: string; decimals: number }

/** Where the profile does not say what the menu asks for: both pairs, with the decimals of the reading and five of the signal. */
const usual = (readingDecimals: number): Ask[] => [
  { label: 'Signal at zero', means: 'scale.lower.signal', decimals: 5 },
  { label: 'Reading at zero', means: 'scale.lower.reading', decimals: readingDecimals },
  { label: 'Signal at the upper load', means: 'scale.upper.signal', decimals: 5 },
  { label: 'Reading at the upper load', means: 'scale.upper.reading', decimals: readingDecimals },
]

const isSignal = (means: string) => /\.(signal|rated-output|zero-balance)$/.test(means)

/** The menu as registers that no bus reaches, so that entry is fitted like a written value. */
function menuProfile(c: FitContext, asks: readonly Ask[], signalUnit: UnitId): Profile {
  const registers = asks.map(
    (ask, i): Register => ({
      name: ask.means,
      channel: c.point.channel,
      table: 'holding',
      address: i,
      type: 'i32',
      order: 'ABCD',
      decimals: ask.decimals,
      unit: isSignal(ask.means) ? signalUnit : c.reading.unit,
      access: 'read-write',
      role: 'setting',
      kept: 'at-once',
      takesEffect: 'now',
      readBack: 'exact',
      evidence: c.profile.scaling.evidence,
    }),
  )
  return { ...c.profile, registers }
}

/** Entry sheet: what to type at the front panel, in the digits and the order of its menu. Nothing can be written; the reading is checked afterwards. */
export const frontPanelEntry: ScalingModel = {
  fit(c) {
    const stated = c.profile.scaling.model === 'front-panel-entry' ? c.profile.scaling.asks : undefined
    const asks = stated ?? usual(c.reading.decimals)
    const signalUnit = signalUnitOf(c.profile, undefined)
    const model = asks.some((a) => a.means === 'scale.capacity') ? capacityRatedOutput : twoPairs
    const menu = menuProfile(c, asks, signalUnit)
    const fitted = model.fit({ ...c, profile: menu })
    if (!fitted.ok) return fitted
    const { chosen, alternatives } = fitted.value
    const list = menu.registers.flatMap((r, i) => {
      const type = chosen.values[registerKey(r)]
      const label = asks[i]?.label ?? r.name
      return type === undefined ? [] : [{ label, type, unit: isSignal(r.name) ? signalUnit : c.reading.unit }]
    })
    const withoutValues = (p: typeof chosen) => ({ ...p, values: {} })
    return ok({
      chosen: withoutValues(chosen),
      alternatives: alternatives.map(withoutValues),
      entries: { list, digitsKnown: stated !== undefined },
    })
  },
}
