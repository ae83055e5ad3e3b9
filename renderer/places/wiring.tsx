import { Button } from '@mantine/core'
import type { Profile } from '../../app/profile/schema.ts'
import { explain } from '../figures/explain.ts'
import { useRequest, useTopic } from '../state/host-context.tsx'
import type { PointView } from '../state/point-view.ts'

type Role = Profile['terminals'][number]['role']

const wires: readonly { role: Role; says: string; sixOnly?: true }[] = [
  { role: 'excitation+', says: 'feeds the bridge' },
  { role: 'sense+', says: 'tells the voltage at the sensor', sixOnly: true },
  { role: 'signal+', says: 'rises with load' },
  { role: 'signal-', says: 'other side of the signal' },
  { role: 'sense-', says: 'tells the voltage at the sensor', sixOnly: true },
  { role: 'excitation-', says: 'return of the feed' },
  { role: 'shield', says: 'at one end only' },
]

const roleWords = (role: Role) => role.replace('+', ' +').replace(/-$/, ' \u2212')

/** Which wire goes to which terminal of this indicator, and how many wires there are. */
export function WiringPlace({ view }: { view: PointView }) {
  const { point, profile } = view
  const { ask, running, failure } = useRequest('point.edit')
  const revision = useTopic('job')?.revision ?? 0
  const terminals = profile?.terminals.filter((t) => t.channel === undefined || t.channel === point.channel) ?? []
  const count = point.wiring.wires
  const used = wires.filter((w) => count === 6 || !w.sixOnly)
  return (
    <div className="columns">
      <section className="wide">
        <h2>Terminals of {profile?.name ?? 'the indicator'}</h2>
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">wire</th>
              <th scope="col">terminal</th>
              <th scope="col">what it does</th>
            </tr>
          </thead>
          <tbody>
            {used.map((w) => (
              <tr key={w.role}>
                <td className="nowrap">{roleWords(w.role)}</td>
                <td>
                  <b>{terminals.find((t) => t.role === w.role)?.label ?? 'not stated'}</b>
                </td>
                <td className="second">{w.says}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <section>
        <h2>Wires in the cable</h2>
        <fieldset className="button-row bare" aria-label="Wires in the cable">
          {([4, 6] as const).map((n) => (
            <Button
              key={n}
              aria-pressed={count === n}
              loading={running}
              onClick={() => void ask({ pointId: point.id, revision, change: { wiring: { wires: n } } })}
            >
              {n === 4 ? 'Four wires' : 'Six wires'}
            </Button>
          ))}
        </fieldset>
        <p className="second">
          {count === 6
            ? 'The voltage is sensed at the sensor or in the junction box: the cable behind it loses nothing.'
            : count === 4
              ? 'The cable between indicator and sensor takes its share of the excitation unseen: the signal falls by lead resistance over bridge resistance. Bridge sense to excitation at the indicator if it has sense terminals.'
              : 'Not stated yet. Choose what the cable has.'}
        </p>
        {failure ? <p className="lost">{explain(failure)}</p> : null}
      </section>
      <section>
        <h2>Measured at the leads</h2>
        <p>
          <span className="empty-place">not measured</span>
        </p>
        <p className="caution">Resistances only with power off and leads lifted.</p>
      </section>
    </div>
  )
}
