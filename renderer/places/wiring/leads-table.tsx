import { colourSets } from '../../../app/bridge/lead-colours.ts'
import { ChoiceField } from '../../parts/choice-field.tsx'
import { TextField } from '../../parts/edit-field.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointChoice, usePointEdit } from '../../state/use-point-edit.ts'
import { rolesOf, roleWords, terminalOf } from './lead-roles.ts'

const typedSet = 'typed'

/** This sensor's leads against the terminals of this profile. */
export function LeadsTable({ view }: { view: PointView }) {
  const { point, profile } = view
  const { wiring } = point
  const edit = usePointEdit(point.id)
  const { put } = usePointChoice(point.id)
  const { leads, ...bare } = wiring
  const choose = (name: string) => {
    const set = colourSets.find((s) => s.name === name)
    if (set) return put({ wiring: { ...wiring, leads: { set: set.name, colours: set.colours } } })
    put({ wiring: name === typedSet ? { ...wiring, leads: { set: typedSet, colours: leads?.colours ?? {} } } : bare })
  }
  return (
    <>
      <ChoiceField
        label="Colours of the leads"
        value={leads?.set ?? ''}
        options={[
          { value: '', label: 'none chosen' },
          ...colourSets.map((s) => ({ value: s.name, label: s.name })),
          { value: typedSet, label: 'typed from the data sheet' },
        ]}
        onChoose={choose}
        beside="excitation +, −; signal +, −. Sets disagree with each other: trust the data sheet."
      />
      <table className="plain-table leads-table" aria-label="Leads and terminals">
        <thead>
          <tr>
            <th scope="col">lead</th>
            <th scope="col">colour</th>
            <th scope="col">terminal</th>
            <th scope="col">what it does</th>
          </tr>
        </thead>
        <tbody>
          {rolesOf(wiring).map(({ role, says }) => (
            <tr key={role}>
              <td className="nowrap">{roleWords(role)}</td>
              <td>
                {leads ? (
                  <TextField
                    bare
                    label={`Colour of ${role}`}
                    value={leads.colours[role] ?? ''}
                    edit={edit}
                    change={(colour) => ({
                      wiring: { ...wiring, leads: { set: typedSet, colours: { ...leads.colours, [role]: colour } } },
                    })}
                  />
                ) : (
                  <span className="second">–</span>
                )}
              </td>
              <td>
                <b>{terminalOf(view, role) ?? 'not stated'}</b>
              </td>
              <td className="second">{says}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="second small">
        Terminals of {profile ? `${profile.name}, channel ${point.channel}` : 'the indicator: none is chosen yet'}.
      </p>
    </>
  )
}
