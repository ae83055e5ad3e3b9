import { Button } from '@mantine/core'
import { useState } from 'react'
import { appliedWords } from '../../app/applied-words.ts'
import type { Certificate } from '../../app/job/schema.ts'
import { units } from '../../app/quantity/units.ts'
import { safeLoadOf, safeOnPoint } from '../../app/scaling/safe-load.ts'
import { explainScalingFailure } from '../../app/scaling/scaling-failure.ts'
import { usedPercent } from '../../app/scaling/sensor-load.ts'
import { certificateLine } from '../chain/certificate-line.ts'
import { decimalsOf, fixedText } from '../figures/number-text.ts'
import { Fact, Facts } from '../parts/facts.tsx'
import { PlaceColumns } from '../parts/place-columns.tsx'
import { Shape } from '../parts/quantity.tsx'
import type { PointView } from '../state/point-view.ts'
import { usePointChoice } from '../state/use-point-edit.ts'
import { Term } from '../terms/term.tsx'
import { CalibrationPaste } from './sensors/calibration-paste.tsx'
import { CertificateFields } from './sensors/certificate-fields.tsx'
import { SensorCount } from './sensors/sensor-count.tsx'

/** Whether all certificates state the same beside serial, number, date and table. */
function areAlike(certificates: readonly Certificate[]): boolean {
  const model = certificates.map(({ serial: _s, number: _n, date: _d, table: _t, ...rest }) =>
    JSON.stringify(Object.entries(rest).sort(([a], [b]) => a.localeCompare(b))),
  )
  return new Set(model).size <= 1
}

/** Everything but serial, number, date and table from the first one. */
function asTheFirst([first, ...others]: readonly Certificate[]): Certificate[] {
  if (!first) return []
  const { table: _own, ...model } = first
  return [first, ...others.map(({ serial, number, date, table }) => ({ ...model, serial, number, date, ...(table ? { table } : {}) }))]
}

/** The sensors of a point: how many, what their certificates state, and what that amounts to together. */
export function SensorsPlace({ view }: { view: PointView }) {
  const { certificates } = view.point.sensors
  const [chosen, setChosen] = useState<boolean | null>(null)
  // Certificates that differ are never shown as one.
  const alike = certificates.length > 1 && areAlike(certificates) && chosen !== false
  const [refused, setRefused] = useState(false)
  const { put } = usePointChoice(view.point.id)
  return (
    <PlaceColumns
      place="sensors"
      columns={[
        {
          className: 'sensors-left',
          main: true,
          parts: [
            {
              name: 'What the certificates state',
              content: (
                <>
                  <SensorCount
                    view={view}
                    alike={alike}
                    onAlike={(wanted) => {
                      setChosen(wanted)
                      setRefused(wanted && !areAlike(certificates))
                    }}
                  />
                  {refused && !areAlike(certificates) ? (
                    <p className="caution">
                      The certificates state different values.{' '}
                      <Button onClick={() => put({ sensors: { ...view.point.sensors, certificates: asTheFirst(certificates) } })}>
                        Give all {certificates.length} what sensor 1 states
                      </Button>
                    </p>
                  ) : null}
                  {certificates.length > 0 ? (
                    <CertificateFields view={view} alike={alike} />
                  ) : (
                    <p className="second">No sensor is entered. Say how many there are; then type what the certificate states.</p>
                  )}
                </>
              ),
            },
          ],
        },
        {
          parts: [
            { name: certificates.length > 1 ? 'Together' : 'At this point', content: <Together view={view} /> },
            { name: 'Calibration table', term: 'calibration table' as const, content: <CalibrationPaste view={view} /> },
          ].filter(() => certificates.length > 0),
        },
      ]}
    />
  )
}

function Together({ view }: { view: PointView }) {
  const { point, job } = view
  const sign = job.decimalSign
  const { certificates } = point.sensors
  if (certificates.length === 0) return null
  const result = certificateLine(point)
  if (!result.ok) return <p className="caution">{explainScalingFailure(result.failure)}</p>
  const { line, warnings } = result.value
  const decimals = Math.max(0, decimalsOf(point.scaleInterval) - 1)
  const load = (value: number) => (
    <>
      {fixedText(value, decimals, sign)} <span className="unit">{point.unit}</span>
    </>
  )
  const words = appliedWords(point)
  const capacity = line.capacityLoad.valueOf()
  const used = usedPercent(line).valueOf()
  const bears = safeLoadOf(certificates)
  const safe = bears && safeOnPoint(line, bears).valueOf()
  const own = warnings.filter((w) => ['capacities-differ', 'output-resistances-differ', 'zero-balance-not-stated'].includes(w.kind))
  return (
    <>
      <Facts>
        <Fact label={<Term of="rated output">{certificates.length > 1 ? 'Mean rated output' : 'Rated output'}</Term>}>
          <b>{fixedText(line.ratedOutput.valueOf(), 5, sign)}</b> <span className="unit">mV/V</span>
        </Fact>
        <Fact label="Capacity, as the point counts">{load(capacity)}</Fact>
        <Fact label={`Used at ${words.maximum}`}>
          <span className={used > 100 ? 'attention' : ''}>
            {used > 100 ? <Shape kind="triangle" /> : null}
            {fixedText(used, 1, sign)} <span className="unit">%</span>
          </span>
        </Fact>
        <Fact label={<Term of="safe overload">Safe {words.quantity} on the point, at most</Term>}>
          {bears === undefined || safe === undefined ? (
            <span className="second">safe {words.excess} not stated</span>
          ) : (
            <>
              {load(safe)}
              {bears.provided ? (
                <span className="second">
                  {' '}
                  {bears.provided}; one sensor bears {fixedText(bears.oneSensor.value, decimals, sign)} {units[bears.oneSensor.unit].symbol}
                </span>
              ) : null}
            </>
          )}
        </Fact>
      </Facts>
      {own.map((w) => (
        <p key={w.kind} className="second small">
          {w.why}
        </p>
      ))}
    </>
  )
}
