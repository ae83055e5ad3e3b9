import { Button } from '@mantine/core'
import { settingRegisters, unitFrom } from '../../app/profile/settings.ts'
import { registerKey } from '../../app/profile/schema.ts'
import { explain } from '../figures/explain.ts'
import { numberText } from '../figures/number-text.ts'
import { settingWords } from '../figures/setting-words.ts'
import { Shape } from '../parts/quantity.tsx'
import { useRequest } from '../state/host-context.tsx'
import { ownDifferences, type PointView } from '../state/point-view.ts'

const plain = (text: string | null | undefined) =>
  text === undefined ? '' : text === null ? 'no number' : /^-?\d+(\.\d+)?$/.test(text) ? numberText(text) : text

/** All settings of this channel, those that differ first: as found, held now, intended. */
export function SettingsPlace({ view }: { view: PointView }) {
  const { profile, state, visit, indicator, point } = view
  const read = useRequest('settings.read')
  if (!profile || !indicator) return <p>This point has no indicator yet.</p>
  const differing = new Map(ownDifferences(view).map((d) => [d.key, d]))
  const found = visit?.found[indicator.id]
  const rows = settingRegisters(profile)
    .filter((r) => r.channel === undefined || r.channel === point.channel)
    .map((r) => ({ r, key: registerKey(r) }))
    .toSorted((a, b) => Number(differing.has(b.key)) - Number(differing.has(a.key)))
  return (
    <section>
      <div className="button-row">
        <h2>Settings</h2>
        <Button loading={read.running} onClick={() => void read.ask({ indicatorId: indicator.id })}>
          Read settings
        </Button>
        <span className="second small">{state?.held ? `read ${state.held.at.slice(11, 19)} UTC` : 'not read yet'}</span>
      </div>
      {read.failure ? <p className="lost">{explain(read.failure)}</p> : null}
      <table className="plain-table wide">
        <thead>
          <tr>
            <th scope="col">Setting</th>
            <th scope="col" className="is-right">
              as found
            </th>
            <th scope="col" className="is-right">
              held
            </th>
            <th scope="col" className="is-right">
              intended
            </th>
            <th scope="col" />
          </tr>
        </thead>
        <tbody>
          {rows.map(({ r, key }) => {
            const held = state?.held?.values[key]?.value
            const difference = differing.get(key)
            const unit = r.options ? undefined : unitFrom(profile, r, (k) => state?.held?.values[k]?.value)
            return (
              <tr key={key}>
                <td>
                  {settingWords(key)} <span className="second small">{r.name}</span>
                </td>
                <td className="is-right second">{plain(found?.values[key]?.value)}</td>
                <td className="is-right">
                  {plain(held)} <span className="unit">{unit}</span>
                </td>
                <td className="is-right">{plain(point.intended[key]) || <span className="second">as held</span>}</td>
                <td>
                  {difference ? (
                    <span className="attention">
                      <Shape kind="triangle" />
                      {plain(difference.held)} becomes {plain(difference.intended)}
                    </span>
                  ) : null}
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </section>
  )
}
