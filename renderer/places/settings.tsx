import { Button } from '@mantine/core'
import { registerKey } from '../../app/profile/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { settingRegisters, unitFrom } from '../../app/profile/settings.ts'
import { openDescription } from '../describe/described.ts'
import { RegisterViewer } from '../describe/register-viewer.tsx'
import { explain } from '../figures/explain.ts'
import { clockText, dateText } from '../figures/number-text.ts'
import { NotMeasured } from '../parts/quantity.tsx'
import { settingText } from '../parts/setting-text.ts'
import { useRequest } from '../state/host-context.tsx'
import { ownDifferences, type PointView } from '../state/point-view.ts'

type Line = {
  key: string
  unit: string | undefined
  found: string | null | undefined
  held: string | null | undefined
  intended: string | undefined
  differs: boolean
}

/** Every setting in one list, what differs first: as found, as held now, as intended. */
export function SettingsPlace({ view }: { view: PointView }) {
  const { point, indicator, profile, state, visit, job } = view
  const { ask, running, failure } = useRequest('settings.read')
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
  const differs = new Set(ownDifferences(view).map((d) => d.key))
  const lines = settingRegisters(profile)
    .filter((r) => r.channel === undefined || r.channel === point.channel)
    .map((r): Line => {
      const key = registerKey(r)
      const unit = r.options ? undefined : unitFrom(profile, r, (k) => state?.held?.values[k]?.value)
      return {
        key,
        unit,
        found: found?.values[key]?.value,
        held: state?.held?.values[key]?.value,
        intended: point.intended[key],
        differs: differs.has(key),
      }
    })
  const ordered = [
    ...lines.filter((l) => l.differs),
    ...lines.filter((l) => !l.differs && l.intended !== undefined),
    ...lines.filter((l) => !l.differs && l.intended === undefined),
  ]
  const sign = job.decimalSign
  const show = (text: string | null | undefined, unit: string | undefined) =>
    text === undefined ? (
      <span className="second">–</span>
    ) : text === null ? (
      'no number'
    ) : (
      <>
        {settingText(text, sign)} <span className="unit">{unit}</span>
      </>
    )

  return (
    <div className="stacked">
      <div className="trend-head">
        <h2>
          {indicator.name}, {profile.name}
        </h2>
        <span className="second">
          {state?.held ? `read ${dateText(new Date(state.held.at))}, ${clockText(new Date(state.held.at))}` : 'not read yet'}
          {found ? `; as found kept ${clockText(new Date(found.at))}` : '; as found is kept once a visit is started'}
        </span>
        <span className="spring" />
        <Button loading={running} onClick={() => void ask({ indicatorId: indicator.id })}>
          Read settings again
        </Button>
      </div>
      {failure ? <p className="lost">{explain(failure)}</p> : null}
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
              as found
            </th>
            <th scope="col" className="is-right">
              held now
            </th>
            <th scope="col" className="is-right">
              intended
            </th>
            <th scope="col">what a write would do</th>
          </tr>
        </thead>
        <tbody>
          {ordered.map((l) => (
            <tr key={l.key} className={l.differs ? 'differs' : ''}>
              <td>{settingWords(l.key, profile.channels)}</td>
              <td className="is-right">{show(l.found, l.unit)}</td>
              <td className="is-right">{show(l.held, l.unit)}</td>
              <td className="is-right">
                {l.intended === undefined ? <span className="second">left as it is</span> : show(l.intended, l.unit)}
              </td>
              <td>
                {l.differs ? (
                  <span className="attention">
                    {settingText(l.held ?? 'not read', sign)} becomes {settingText(l.intended ?? '', sign)}
                  </span>
                ) : (
                  <span className="second">{l.intended === undefined ? '' : 'nothing, it is held'}</span>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <details className="settings-registers">
        <summary>Registers as they are</summary>
        <RegisterViewer busId={indicator.busId} unit={indicator.unit} profile={profile} />
      </details>
    </div>
  )
}
