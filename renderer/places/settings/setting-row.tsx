import type { Register } from '../../../app/profile/schema.ts'
import { settingWords } from '../../../app/profile/setting-words.ts'
import { kindWords } from '../../../app/quantity/convert.ts'
import { unitInDoubt, unitsByKind } from '../../../app/scaling/unit-kind.ts'
import { ChoiceField } from '../../parts/choice-field.tsx'
import { SettingField } from '../../parts/edit-field.tsx'
import { Failed } from '../../parts/failed.tsx'
import { Shape } from '../../parts/quantity.tsx'
import { useSettingText } from '../../parts/setting-text.ts'
import { useTopic } from '../../state/host-context.tsx'
import type { PointView } from '../../state/point-view.ts'
import { useIntend } from '../../state/use-intend.ts'
import { KeepHeld } from './keep-held.tsx'
import { writeWould } from './write-would.ts'

export type SettingLine = {
  key: string
  register: Register
  found: string | null | undefined
  held: string | null | undefined
  left: string | null | undefined
  intended: string | undefined
  /** Each number is in the unit that goes with it: an indicator can change the one that it reads in. */
  units: Readonly<Record<'found' | 'held' | 'left' | 'intended', string | undefined>>
  differs: boolean
  /** A write outlives a power cut. */
  kept: boolean
}

/** One setting: what was found, what is held, what is to be, and what a write would do about it. */
export function SettingRow({ view, line, withLeft }: { view: PointView; line: SettingLine; withLeft: boolean }) {
  const { profile } = view
  const show = useSettingText()
  const value = (text: string | null | undefined, unit: string | undefined) =>
    text === undefined ? (
      <span className="second">–</span>
    ) : (
      <>
        {show(text)} {text === null ? null : <span className="unit">{unit}</span>}
      </>
    )
  const name = settingWords(line.key, profile?.channels ?? 1)
  const would = writeWould(line, show)
  return (
    <tr className={line.differs ? 'differs' : ''}>
      <th scope="row">
        {name}
        {line.key.includes('@') ? null : <span className="second small"> · whole indicator</span>}
      </th>
      <td className="is-right">{value(line.found, line.units.found)}</td>
      <td className="is-right">{value(line.held, line.units.held)}</td>
      {withLeft ? <td className="is-right">{value(line.left, line.units.left)}</td> : null}
      <td className="intended-cell">
        <Intended view={view} line={line} name={name} />
      </td>
      <td>
        {would ? <span className={would.attention ? 'attention' : 'second'}>{would.text}</span> : null}
        {line.differs || (line.intended !== undefined && line.held === undefined) ? (
          <KeepHeld view={view} of={line.key} name={name} />
        ) : null}
      </td>
    </tr>
  )
}

/** The value to be, typed or chosen here; empty while the setting is left as it is. */
function Intended({ view, line, name }: { view: PointView; line: SettingLine; name: string }) {
  const { register, key, intended } = line
  const revision = useTopic('job')?.revision ?? 0
  const { put, failure } = useIntend(view)
  const closed = Boolean(view.state?.writing) || Boolean(view.runningCheck)
  if (register.access !== 'read-write') return <span className="second">cannot be written</span>
  if (register.options) {
    const offered = register.options.map((o) => o.means)
    const isUnit = register.name === 'reading.unit'
    const { fitting, other } = isUnit ? unitsByKind(offered, view.point) : { fitting: offered, other: [] }
    const doubt = isUnit ? unitInDoubt(intended ?? line.held ?? '', offered, view.point) : undefined
    return (
      <>
        <ChoiceField
          bare
          label={`${name}, intended`}
          value={intended ?? ''}
          disabled={closed}
          options={[...(intended === undefined ? [{ value: '', label: 'left as it is' }] : []), ...fitting.map(choice)]}
          apart={{ heading: `Not units of ${kindWords(view.point.unit)}`, options: other.map(choice) }}
          onChoose={(value) => (value === '' ? undefined : void put(revision, key, value))}
        />
        {doubt ? (
          <p className="attention small">
            <Shape kind="triangle" />
            {doubt}
          </p>
        ) : null}
        <Failed of={failure} small />
      </>
    )
  }
  return (
    <SettingField
      bare
      label={`${name}, intended`}
      value={intended ?? ''}
      unit={line.units.intended ?? ''}
      placeholder="left as it is"
      disabled={closed}
      intend={(since, value) => put(since, key, value)}
    />
  )
}

const choice = (means: string) => ({ value: means, label: means })
