import { appliedWords } from '../../app/applied-words.ts'
import type { Point } from '../../app/job/schema.ts'
import { plusMinus } from '../../app/quantity/format.ts'
import { units } from '../../app/quantity/units.ts'
import { fixedText, numberText } from '../figures/number-text.ts'
import { NumberField, TextField } from '../parts/edit-field.tsx'
import { Overloaded } from '../parts/overloaded.tsx'
import { PlaceColumns } from '../parts/place-columns.tsx'
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
  const pressure = units[point.unit].dimension === 'pressure'
  const intervals = Number(point.maximumLoad) / Number(point.scaleInterval)
  return (
    <PlaceColumns
      place="load"
      columns={[
        {
          parts: [
            {
              name: 'What the point shows',
              content: (
                <>
                  <NumberField
                    label={appliedWords(point).maximumName}
                    term="maximum load"
                    value={point.maximumLoad}
                    unit={point.unit}
                    edit={edit}
                    change={(maximumLoad) => ({ maximumLoad })}
                  />
                  <NumberField
                    label="Scale interval d"
                    term="scale interval"
                    value={point.scaleInterval}
                    unit={point.unit}
                    edit={edit}
                    change={(scaleInterval) => ({ scaleInterval })}
                    beside={
                      Number.isFinite(intervals)
                        ? `${numberText(String(Math.round(intervals)), sign)} intervals up to ${appliedWords(point).maximum}`
                        : undefined
                    }
                  />
                  {pressure ? null : (
                    <NumberField
                      label="Verification interval e"
                      term="verification scale interval"
                      value={point.verificationInterval ?? ''}
                      unit={point.unit}
                      edit={edit}
                      change={(verificationInterval) => ({ verificationInterval })}
                      clear={() => ({ verificationInterval: null })}
                      beside={point.verificationInterval ? verificationText(point, sign) : 'for legal trade only'}
                    />
                  )}
                  <Tolerance view={view} />
                </>
              ),
            },
          ],
        },
        {
          parts: [
            {
              name: pressure ? 'Process connection' : 'Load path',
              ...(pressure ? {} : { term: 'load path' as const }),
              content: pressure ? (
                <PressureConnection view={view} />
              ) : (
                <>
                  <ShareSteps view={view} />
                  <DeadLoad view={view} />
                </>
              ),
            },
            { name: 'Gravity', term: 'gravity', content: <Gravity view={view} /> },
          ],
        },
        {
          className: 'wide',
          main: true,
          parts: [
            {
              name: 'On it now',
              content: (
                <>
                  <LoadNow view={view} />
                  <Overloaded view={view} />
                  <ExpectedTable view={view} />
                </>
              ),
            },
          ],
        },
      ]}
    />
  )
}

/** "2000 verification intervals, e = 2.5 d": what such an instrument is classed by. */
function verificationText({ maximumLoad, scaleInterval, verificationInterval }: Point, sign: '.' | ','): string {
  const [maximum, d, e] = [maximumLoad, scaleInterval, verificationInterval ?? scaleInterval].map(Number)
  if (!maximum || !d || !e) return ''
  const ratio = numberText(String(Number((e / d).toFixed(3))), sign)
  return `n = ${numberText(String(Math.floor(maximum / e + 1e-9)), sign)}; e = ${ratio === '1' ? '' : `${ratio} `}d`
}

function Tolerance({ view }: { view: PointView }) {
  const { point, job } = view
  const { tolerance } = point
  const edit = usePointEdit(point.id)
  return (
    <div className="group ruled">
      <h3>When it is right</h3>
      <NumberField
        label="Tolerance"
        term="tolerance"
        value={tolerance?.value ?? ''}
        unit={point.unit}
        edit={edit}
        change={(value) => ({ tolerance: { value, why: '' } })}
        beside={
          tolerance
            ? `${plusMinus(fixedText(Number(tolerance.value) / Number(point.scaleInterval), 1, job.decimalSign))} d, over the whole range`
            : 'without it a check gives errors but no verdict'
        }
      />
      <TextField
        label="Where it comes from"
        stacked
        value={tolerance?.why ?? ''}
        edit={edit}
        change={(why) => (tolerance ? { tolerance: { ...tolerance, why } } : {})}
        clear={() => (tolerance ? { tolerance: { ...tolerance, why: '' } } : {})}
      />
    </div>
  )
}
