import { registerKey } from '../../../app/profile/schema.ts'
import { unitFrom } from '../../../app/profile/settings.ts'
import { channelRegister } from '../../../app/scaling/reading-settings.ts'
import { explain } from '../../figures/explain.ts'
import { ChoiceField } from '../../parts/choice-field.tsx'
import { SettingField } from '../../parts/edit-field.tsx'
import { useSettingText } from '../../parts/setting-text.ts'
import { useTopic } from '../../state/host-context.tsx'
import type { PointView } from '../../state/point-view.ts'
import { useIntend } from '../../state/use-intend.ts'
import type { TermName } from '../../terms/terms.ts'
import { KeepHeld } from '../settings/keep-held.tsx'

/** One setting of the input: what is held, and what is intended. Only Review and write puts it into the indicator. */
export function IntendedSetting({ view, name, label, term }: { view: PointView; name: string; label: string; term?: TermName }) {
  const { point, profile, state } = view
  const show = useSettingText()
  const { put, failure } = useIntend(view)
  const revision = useTopic('job')?.revision ?? 0
  const register = profile && channelRegister(profile, name, point.channel)
  if (!register)
    return (
      <p className="share-sum">
        <span className="second">{label}</span>
        <span className="second small">not a setting of this indicator</span>
      </p>
    )
  const key = registerKey(register)
  const held = state?.held?.values[key]?.value
  const intended = point.intended[key]
  const heldAt = (k: string) => state?.held?.values[k]?.value
  const unitBy = (valueAt: typeof heldAt) => (register.options ? '' : (unitFrom(profile, register, valueAt) ?? ''))
  const [heldUnit, unit] = [unitBy(heldAt), unitBy((k) => point.intended[k] ?? heldAt(k) ?? undefined)]
  const toWrite = intended !== undefined && intended !== held
  const heldText = held === undefined ? 'not read' : `held ${show(held)} ${heldUnit}`.trim()
  const beside = toWrite ? (
    <>
      {heldText}; intended, not written
      <KeepHeld view={view} of={key} name={label} />
    </>
  ) : (
    `${heldText}${intended === undefined ? '; nothing intended' : ', as intended'}`
  )
  const closed = register.access !== 'read-write' || Boolean(state?.writing)
  return (
    <div>
      {register.options ? (
        <ChoiceField
          label={label}
          term={term}
          value={intended ?? held ?? ''}
          disabled={closed}
          options={[
            ...(intended === undefined && !held ? [{ value: '', label: 'not read' }] : []),
            ...register.options.map((o) => ({ value: o.means, label: o.means })),
          ]}
          onChoose={(value) => void put(revision, key, value)}
          beside={beside}
        />
      ) : (
        <SettingField
          label={label}
          term={term}
          value={intended ?? held ?? ''}
          unit={unit}
          disabled={closed}
          intend={(since, value) => put(since, key, value)}
          beside={beside}
        />
      )}
      {failure && register.options ? <p className="lost">{explain(failure)}</p> : null}
    </div>
  )
}
