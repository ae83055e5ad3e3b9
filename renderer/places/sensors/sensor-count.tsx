import { Button } from '@mantine/core'
import { whyNoSensorCount } from '../../../app/job/edit-limits.ts'
import { mostSensors, resized } from '../../../app/job/sensors.ts'
import { units } from '../../../app/quantity/units.ts'
import { NumberField } from '../../parts/edit-field.tsx'
import { Failed } from '../../parts/failed.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointChoice, usePointEdit } from '../../state/use-point-edit.ts'
import { Term } from '../../terms/term.tsx'

/** How many sensors lie in parallel, whether they are told alike or each by itself, and whether the box is trimmed. */
export function SensorCount({ view, alike, onAlike }: { view: PointView; alike: boolean; onAlike: (alike: boolean) => void }) {
  const { point } = view
  const { certificates, trimmed } = point.sensors
  const edit = usePointEdit(point.id)
  const { put, failure } = usePointChoice(point.id)
  const several = certificates.length > 1
  return (
    <div className="sensor-count">
      <NumberField
        label={units[point.unit].dimension === 'pressure' ? 'Sensors' : 'Sensors in parallel'}
        value={String(certificates.length)}
        unit={null}
        edit={edit}
        whyNot={whyNoSensorCount}
        change={(count) => ({ sensors: { ...point.sensors, certificates: resized(certificates, Number(count)) } })}
        beside={`0 to ${mostSensors}; one more is of the same model, its own outputs not stated`}
      />
      {several ? (
        <>
          <fieldset className="button-row bare" aria-label="Certificates">
            <Button aria-pressed={alike} onClick={() => onAlike(true)}>
              All alike
            </Button>
            <Button aria-pressed={!alike} onClick={() => onAlike(false)}>
              Each its own
            </Button>
          </fieldset>
          <fieldset className="button-row bare" aria-label="Junction box">
            {[false, true].map((t) => (
              <Button key={String(t)} aria-pressed={trimmed === t} onClick={() => put({ sensors: { ...point.sensors, trimmed: t } })}>
                {t ? 'Box trimmed' : 'Box not trimmed'}
              </Button>
            ))}
          </fieldset>
        </>
      ) : null}
      {trimmed && several ? (
        <p className="caution">
          A <Term of="trimmed box">trimmed box</Term> changes the sum: scaling from the certificates is a first guess. Check it with
          weights.
        </p>
      ) : null}
      <Failed of={failure} />
    </div>
  )
}
