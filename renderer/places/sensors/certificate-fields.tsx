import { appliedWords } from '../../../app/applied-words.ts'
import type { Certificate } from '../../../app/job/schema.ts'
import { kindOf } from '../../../app/quantity/convert.ts'
import type { QuantityText } from '../../../app/quantity/quantity-text.ts'
import type { Dimension, UnitId } from '../../../app/quantity/units.ts'
import { ChoiceField } from '../../parts/choice-field.tsx'
import { NumberField, QuantityField, TextField } from '../../parts/edit-field.tsx'
import type { PointView } from '../../state/point-view.ts'
import { type PointChange, usePointChoice, usePointEdit } from '../../state/use-point-edit.ts'
import { Labelled } from '../../terms/labelled.tsx'
import type { TermName } from '../../terms/terms.ts'

type QuantityKey = {
  [K in keyof Certificate]-?: NonNullable<Certificate[K]> extends QuantityText ? K : never
}[keyof Certificate]
type TextKey = 'serial' | 'number' | 'date'

const texts: readonly { key: TextKey; label: string }[] = [
  { key: 'serial', label: 'Serial number' },
  { key: 'number', label: 'Certificate number' },
  { key: 'date', label: 'Certificate date' },
]
const quantities: readonly {
  key: Exclude<QuantityKey, 'capacity'>
  label: string
  term?: TermName
  dimensions: readonly Dimension[]
  unit: UnitId
}[] = [
  { key: 'ratedOutput', label: 'Rated output', term: 'rated output', dimensions: ['bridge-signal', 'voltage'], unit: 'mV/V' },
  { key: 'zeroBalance', label: 'Zero balance', term: 'zero balance', dimensions: ['bridge-signal', 'voltage', 'ratio'], unit: 'mV/V' },
  { key: 'certifiedAt', label: 'Certified at, where in mV', dimensions: ['voltage'], unit: 'V' },
  { key: 'inputResistance', label: 'Input resistance', term: 'input resistance', dimensions: ['resistance'], unit: 'ohm' },
  { key: 'inputResistanceTolerance', label: 'within ±', dimensions: ['resistance'], unit: 'ohm' },
  { key: 'outputResistance', label: 'Output resistance', term: 'output resistance', dimensions: ['resistance'], unit: 'ohm' },
  { key: 'outputResistanceTolerance', label: 'within ±', dimensions: ['resistance'], unit: 'ohm' },
  { key: 'excitationRecommended', label: 'Excitation, recommended', term: 'excitation', dimensions: ['voltage'], unit: 'V' },
  { key: 'excitationMaximum', label: 'Excitation, at most', dimensions: ['voltage'], unit: 'V' },
]

/**
 * What the certificates state, a row a field and a column a sensor; `alike` has one column for what all state in the same way.
 * An emptied field is "not stated".
 */
export function CertificateFields({ view, alike }: { view: PointView; alike: boolean }) {
  const { point } = view
  const { certificates } = point.sensors
  const edit = usePointEdit(point.id)
  const { put } = usePointChoice(point.id)
  const every = (change: (c: Certificate, i: number) => Certificate): PointChange => ({
    sensors: { ...point.sensors, certificates: certificates.map(change) },
  })
  const at = (index: number, change: (c: Certificate) => Certificate) => every((c, i) => (alike || i === index ? change(c) : c))
  const one = (index: number, change: Partial<Certificate>) => every((c, i) => (i === index ? { ...c, ...change } : c))
  const columns = alike ? certificates.slice(0, 1) : certificates
  const span = alike ? certificates.length : 1
  const name = (i: number) => (alike ? 'all' : `sensor ${i + 1}`)
  const loads = kindOf(point.unit)
  const { excess } = appliedWords(point)
  const without = (c: Certificate, key: keyof Certificate): Certificate => {
    const { [key]: _gone, ...rest } = c
    return rest as Certificate
  }
  return (
    <table className="plain-table certificate-table" aria-label="What the certificates state">
      <thead>
        <tr>
          <th scope="col" aria-label="field" />
          {certificates.map((c, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a certificate has no id of its own; its place in the list is what an edit names
            <th key={i} scope="col">
              {certificates.length === 1 ? 'sensor' : `sensor ${i + 1}`}
              {c.table ? ' · table' : ''}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {texts.map(({ key, label }) => (
          <tr key={key}>
            <th scope="row">{label}</th>
            {certificates.map((c, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: as above
              <td key={i}>
                <TextField bare label={`${label}, sensor ${i + 1}`} value={c[key]} edit={edit} change={(text) => one(i, { [key]: text })} />
              </td>
            ))}
          </tr>
        ))}
        <tr>
          <th scope="row">
            <Labelled label="Capacity" term="capacity" />
          </th>
          {columns.map((c, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: as above
            <td key={i} colSpan={span}>
              <QuantityField
                bare
                label={`Capacity, ${name(i)}`}
                value={c.capacity}
                dimensions={loads}
                unit={c.capacity?.unit ?? point.unit}
                edit={edit}
                change={(capacity) => at(i, (old) => ({ ...old, capacity }))}
                clear={() => at(i, (old) => without(old, 'capacity'))}
              />
            </td>
          ))}
        </tr>
        {quantities.map(({ key, label, term, dimensions, unit }) => (
          <tr key={key}>
            <th scope="row">
              <Labelled label={label} term={term} />
            </th>
            {columns.map((c, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: as above
              <td key={i} colSpan={span}>
                <QuantityField
                  bare
                  label={`${key === 'inputResistanceTolerance' ? 'Input resistance within' : key === 'outputResistanceTolerance' ? 'Output resistance within' : label}, ${name(i)}`}
                  value={c[key]}
                  dimensions={dimensions}
                  unit={unit}
                  edit={edit}
                  change={(quantity) => at(i, (old) => ({ ...old, [key]: quantity }))}
                  clear={() => at(i, (old) => without(old, key))}
                />
              </td>
            ))}
          </tr>
        ))}
        <tr>
          <th scope="row">
            <Labelled label={`Safe ${excess}, of capacity`} term="safe overload" />
          </th>
          {columns.map((c, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: as above
            <td key={i} colSpan={span}>
              <NumberField
                bare
                label={`Safe ${excess}, ${name(i)}`}
                value={c.safeOverloadPercent ?? ''}
                unit="%"
                edit={edit}
                change={(percent) => at(i, (old) => ({ ...old, safeOverloadPercent: percent }))}
                clear={() => at(i, (old) => without(old, 'safeOverloadPercent'))}
              />
            </td>
          ))}
        </tr>
        <tr>
          <th scope="row">
            <Labelled label="Gravity behind it" term="gravity" />
          </th>
          {columns.map((c, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: as above
            <td key={i} colSpan={span}>
              <ChoiceField
                bare
                label={`Gravity behind it, ${name(i)}`}
                value={typeof c.gravity === 'string' ? c.gravity : 'laboratory'}
                options={[
                  { value: 'not-stated', label: 'not stated' },
                  { value: 'standard', label: 'standard' },
                  { value: 'laboratory', label: "laboratory's" },
                ]}
                onChoose={(chosen) =>
                  chosen === ''
                    ? undefined
                    : put(at(i, (old) => ({ ...old, gravity: chosen === 'laboratory' ? { value: '9.80665', unit: 'm/s2' } : chosen })))
                }
              />
              {typeof c.gravity === 'string' ? null : (
                <QuantityField
                  bare
                  label={`Gravity of the laboratory, ${name(i)}`}
                  value={c.gravity}
                  dimensions={['acceleration']}
                  unit="m/s2"
                  edit={edit}
                  change={(gravity) => at(i, (old) => ({ ...old, gravity }))}
                />
              )}
            </td>
          ))}
        </tr>
      </tbody>
    </table>
  )
}
