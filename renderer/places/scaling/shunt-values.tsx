import { withShunt } from '../../../app/job/measured.ts'
import { formatQuantity } from '../../../app/quantity/format.ts'
import { QuantityField } from '../../parts/edit-field.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointEdit } from '../../state/use-point-edit.ts'

/** The change of signal that the shunt makes: as stated for the sensor, and as measured here. */
export function ShuntValues({ view }: { view: PointView }) {
  const { point, job } = view
  const edit = usePointEdit(point.id)
  const { shunt } = point.measured
  const unit = point.measured.shunt?.stated.unit ?? 'mV/V'
  return (
    <details className="figures" open={point.scalingFrom === 'shunt'}>
      <summary>Shunt{shunt ? '' : ', not entered'}</summary>
      <QuantityField
        label="Change as stated"
        term="shunt"
        value={shunt?.stated}
        dimensions={['bridge-signal', 'voltage']}
        unit={unit}
        edit={edit}
        change={(stated) => ({ measured: withShunt(point.measured, { stated }) })}
      />
      <QuantityField
        label="Change as measured"
        value={shunt?.measured}
        dimensions={['bridge-signal', 'voltage']}
        unit={unit}
        edit={edit}
        change={(measured) => ({ measured: withShunt(point.measured, { measured }) })}
        beside={
          shunt?.excitation ? `taken at ${formatQuantity(shunt.excitation.value, shunt.excitation.unit, job.decimalSign)}` : undefined
        }
      />
      <p className="second small">
        The place Reading shows the change while the shunt is on. It shows change of leads and input, not the load path.
      </p>
    </details>
  )
}
