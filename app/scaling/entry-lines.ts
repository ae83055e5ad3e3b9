import type { Panel } from '../profile/panel.ts'
import { type PanelEntry, registerKey } from '../profile/schema.ts'
import { type UnitId, unitIds } from '../quantity/units.ts'
import { unitMeant } from './reading-settings.ts'

/** One line of an entry sheet: what the panel asks for, and what to type. */
export type EntryLine = {
  /** Register key of the meaning, e.g. `scale.upper.signal@1`. */
  key: string
  label: string
  /** Null: the job decides nothing here, it stays as it is. */
  type: string | null
  unit?: UnitId
}

/** The panel's entries in its order with what was computed for them. */
export function entryLines(panel: Panel, values: Readonly<Record<string, string>>, readingUnit: UnitId): EntryLine[] {
  return panel.entries.map((entry) => {
    const key = registerKey(entry)
    const type = values[key] ?? null
    const unit = entry.options ? undefined : unitOf(entry, panel, values, readingUnit)
    return { key, label: entry.label, type, ...(unit ? { unit } : {}) }
  })
}

/** A reading whose unit the panel does not name is in the unit that the indicator shows. */
function unitOf(entry: PanelEntry, panel: Panel, values: Readonly<Record<string, string>>, readingUnit: UnitId): UnitId | undefined {
  const { unit } = entry
  if (typeof unit !== 'object') return unitIds.find((id) => id === unit) ?? (/\.reading$/.test(entry.name) ? readingUnit : undefined)
  const chooser =
    panel.entries.find((e) => e.name === unit.entry && e.channel === entry.channel) ?? panel.entries.find((e) => e.name === unit.entry)
  const chosen = chooser && (values[registerKey(chooser)] ?? (chooser.options?.length === 1 ? chooser.options[0] : undefined))
  return chosen === undefined ? undefined : unitMeant(chosen)
}
