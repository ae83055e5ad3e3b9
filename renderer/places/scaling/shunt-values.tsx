import { QuantityField } from '../../parts/edit-field.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointEdit } from '../../state/use-point-edit.ts'

/** The change of signal that the shunt makes: as stated for the sensor, and as measured here. */
export function ShuntValues({ view }: { view: PointView }) {
  const { point } = view
  const edit = usePointEdit(point.id)
  const { shunt } = point.measured
  const unit = point.measured.shunt?.stated.unit ?? 'mV/V'
  const fallback = { value: '0', unit } as const
  const put = (change: Partial<NonNullable<typeof shunt>>) => ({
    measured: { ...point.measured, shunt: { stated: shunt?.stated ?? fallback, measured: shunt?.measured ?? fallback, ...change } },
  })
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
        change={(stated) => put({ stated })}
      />
      <QuantityField
        label="Change as measured"
        value={shunt?.measured}
        dimensions={['bridge-signal', 'voltage']}
        unit={unit}
        edit={edit}
        change={(measured) => put({ measured })}
      />
      <p className="second small">
        The place Reading shows the change while the shunt is on. It shows change of leads and input, not the load path.
      </p>
    </details>
  )
}
