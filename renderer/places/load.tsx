import { units } from '../../app/quantity/units.ts'
import { numberText } from '../figures/number-text.ts'
import { NumberField, QuantityField, TextField } from '../parts/edit-field.tsx'
import { Fact, Facts } from '../parts/facts.tsx'
import type { PointView } from '../state/point-view.ts'
import { usePointEdit } from '../state/use-point-edit.ts'

/** What is weighed or pressed, how far, how finely, and what stands between the load and the sensors. */
export function LoadPlace({ view }: { view: PointView }) {
  const { point, job } = view
  const edit = usePointEdit(point.id)
  const sign = job.decimalSign
  const { loadPath, tolerance } = point
  const { dimension } = units[point.unit]
  const intervals = Number(point.maximumLoad) / Number(point.scaleInterval)
  return (
    <div className="columns">
      <section>
        <h2>What the point shows</h2>
        <NumberField
          label="Maximum load"
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
            Number.isFinite(intervals) ? `${numberText(String(Math.round(intervals)), sign)} intervals up to maximum load` : undefined
          }
        />
      </section>
      <section>
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
      </section>
      <section>
        <h2>Load path</h2>
        {dimension === 'pressure' ? null : (
          <QuantityField
            label="Dead load"
            value={loadPath.deadLoad}
            dimensions={['mass', 'force']}
            unit={point.unit}
            edit={edit}
            change={(deadLoad) => ({ loadPath: { ...loadPath, deadLoad } })}
            beside={loadPath.deadLoad ? undefined : 'not stated'}
          />
        )}
        <Facts>
          <Fact label="Share on the sensors">
            {numberText(loadPath.sharePercent, sign)} <span className="unit">%</span>
          </Fact>
          <Fact label="Gravity here">
            {loadPath.gravityHere ? (
              `${numberText(loadPath.gravityHere.value, sign)} ${units[loadPath.gravityHere.unit].symbol}`
            ) : (
              <span className="second">not stated</span>
            )}
          </Fact>
          {loadPath.pressure ? <Fact label="Pressure">{loadPath.pressure}</Fact> : null}
        </Facts>
      </section>
    </div>
  )
}
