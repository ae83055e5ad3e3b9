import { units } from '../../app/quantity/units.ts'
import { numberText } from '../figures/number-text.ts'
import { NumberField, TextField } from '../parts/edit-field.tsx'
import type { PointView } from '../state/point-view.ts'
import { usePointEdit } from '../state/use-point-edit.ts'
import { DeadLoad } from './load/dead-load.tsx'
import { ExpectedTable } from './load/expected-table.tsx'
import { Gravity } from './load/gravity.tsx'
import { LoadNow } from './load/load-now.tsx'
import { PressureConnection } from './load/pressure-connection.tsx'
import { ShareSteps } from './load/share-steps.tsx'

/** What is weighed or pressed, how far, how finely, what stands between the load and the sensors, and what is on now. */
export function LoadPlace({ view }: { view: PointView }) {
  const { point, job } = view
  const edit = usePointEdit(point.id)
  const sign = job.decimalSign
  const { tolerance } = point
  const pressure = units[point.unit].dimension === 'pressure'
  const intervals = Number(point.maximumLoad) / Number(point.scaleInterval)
  return (
    <div className="columns">
      <section>
        <h2>What the point shows</h2>
        <NumberField
          label={pressure ? 'Upper range value' : 'Maximum load'}
          value={point.maximumLoad}
          unit={point.unit}
          edit={edit}
          change={(maximumLoad) => ({ maximumLoad })}
        />
        <NumberField
          label="Scale interval d"
          value={point.scaleInterval}
          unit={point.unit}
          edit={edit}
          change={(scaleInterval) => ({ scaleInterval })}
          beside={
            Number.isFinite(intervals)
              ? `${numberText(String(Math.round(intervals)), sign)} intervals up to ${pressure ? 'the upper range value' : 'maximum load'}`
              : undefined
          }
        />
        <div className="group ruled">
          <h2>When it is right</h2>
          <NumberField
            label="Tolerance"
            value={tolerance?.value ?? ''}
            unit={point.unit}
            edit={edit}
            change={(value) => ({ tolerance: { value, why: tolerance?.why ?? '' } })}
            beside={
              tolerance
                ? `± ${numberText((Number(tolerance.value) / Number(point.scaleInterval)).toFixed(1), sign)} d, over the whole range`
                : 'without it a check gives errors but no verdict'
            }
          />
          <TextField
            label="Where it comes from"
            stacked
            value={tolerance?.why ?? ''}
            edit={edit}
            change={(why) => (tolerance ? { tolerance: { ...tolerance, why } } : {})}
          />
        </div>
      </section>
      <section>
        <h2>{pressure ? 'Process connection' : 'Load path'}</h2>
        {pressure ? <PressureConnection view={view} /> : null}
        {pressure ? null : <ShareSteps view={view} />}
        {pressure ? null : <DeadLoad view={view} />}
        <div className="group ruled">
          <h2>Gravity</h2>
          <Gravity view={view} />
        </div>
      </section>
      <section className="wide">
        <LoadNow view={view} />
        <ExpectedTable view={view} />
      </section>
    </div>
  )
}
