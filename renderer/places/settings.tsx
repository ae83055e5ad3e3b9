import { Button } from '@mantine/core'
import { useState } from 'react'
import type { SettingsImage } from '../../app/job/schema.ts'
import { isKept } from '../../app/profile/kept.ts'
import { registerKey } from '../../app/profile/schema.ts'
import { settingRegisters, unitFrom } from '../../app/profile/settings.ts'
import { openDescription } from '../describe/described.ts'
import { RegisterViewer } from '../describe/register-viewer.tsx'
import { clockText, dateText } from '../figures/number-text.ts'
import { Failed } from '../parts/failed.tsx'
import { NotMeasured } from '../parts/quantity.tsx'
import { Scroller } from '../parts/scroller.tsx'
import { useRequest } from '../state/host-context.tsx'
import { ownDifferences, type PointView } from '../state/point-view.ts'
import { Term } from '../terms/term.tsx'
import { Seal } from './settings/seal.tsx'
import { type SettingLine, SettingRow } from './settings/setting-row.tsx'

/** Every setting in one list, what differs first: as found, as held now, as intended. */
export function SettingsPlace({ view }: { view: PointView }) {
  const { point, indicator, profile, state, visit } = view
  const { ask, running, failure } = useRequest('settings.read')
  const [display, setDisplay] = useState('')
  if (!indicator) return <p className="second">This point has no indicator; it is checked with typed readings.</p>
  if (!profile)
    return (
      <p className="second">
        Nobody has described the model of {indicator.name} yet (the job names the profile {indicator.profileId}).{' '}
        <button type="button" className="plain-link" onClick={() => openDescription('', 'settings')}>
          Describe an indicator
        </button>
      </p>
    )
  const found = visit?.found[indicator.id]
  const left = visit?.left[indicator.id]
  const differs = new Set(ownDifferences(view).map((d) => d.key))
  const lines = settingRegisters(profile)
    .filter((r) => r.channel === undefined || r.channel === point.channel)
    .map((r): SettingLine => {
      const key = registerKey(r)
      const at = (image: SettingsImage | null | undefined) => (k: string) => image?.values[k]?.value
      const unitBy = (valueAt: ReturnType<typeof at>) => (r.options ? undefined : unitFrom(profile, r, valueAt))
      const heldAt = at(state?.held)
      return {
        key,
        register: r,
        found: found?.values[key]?.value,
        held: heldAt(key),
        left: left?.values[key]?.value,
        intended: point.intended[key],
        units: {
          found: unitBy(at(found)),
          held: unitBy(heldAt),
          left: unitBy(at(left)),
          intended: unitBy((k) => point.intended[k] ?? heldAt(k)),
        },
        differs: differs.has(key),
        kept: isKept(profile, r),
      }
    })
  const ordered = [
    ...lines.filter((l) => l.differs),
    ...lines.filter((l) => !l.differs && l.intended !== undefined),
    ...lines.filter((l) => !l.differs && l.intended === undefined),
  ]
  const writable = lines.filter((l) => l.register.access === 'read-write').length

  return (
    <Scroller>
      <div className="trend-head">
        <h2>
          {indicator.name}, <Term of="profile">{profile.name}</Term>
        </h2>
        <span className="second">
          {state?.held ? `read ${dateText(new Date(state.held.at))}, ${clockText(new Date(state.held.at))}` : 'settings not read yet'}
          {found
            ? `; as found kept ${clockText(new Date(found.at))}`
            : `; as found is kept once ${view.visit ? 'they are read' : 'a visit is started'}`}
        </span>
        <span className="spring" />
        <Button loading={running} onClick={() => void ask({ indicatorId: indicator.id })}>
          {state?.held ? 'Read settings again' : 'Read settings'}
        </Button>
      </div>
      <Failed of={failure} />
      <Seal indicator={indicator} visit={visit} verified={point} />
      <p className="second small">
        {writable} of {lines.length} can be written. A value typed here is intended; only Review and write puts it into the indicator.
      </p>
      {state?.held ? null : (
        <p>
          <NotMeasured>not read</NotMeasured>
        </p>
      )}
      <table className="plain-table settings-table">
        <thead>
          <tr>
            <th scope="col">setting</th>
            <th scope="col" className="is-right">
              <Term of="as found">as found</Term>
            </th>
            <th scope="col" className="is-right">
              <Term of="held">held</Term> now
            </th>
            {left ? (
              <th scope="col" className="is-right">
                <Term of="as left">as left</Term>, so far
              </th>
            ) : null}
            <th scope="col">
              <Term of="intended">intended</Term>
            </th>
            <th scope="col">what a write would do</th>
          </tr>
        </thead>
        <tbody>
          {ordered.map((line) => (
            <SettingRow key={line.key} view={view} line={line} withLeft={left !== undefined} />
          ))}
        </tbody>
      </table>
      <details className="settings-registers">
        <summary>Registers as they are</summary>
        <RegisterViewer busId={indicator.busId} unit={indicator.unit} profile={profile} display={display} onDisplay={setDisplay} />
      </details>
    </Scroller>
  )
}
