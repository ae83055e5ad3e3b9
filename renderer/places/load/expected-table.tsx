import type { ReactNode } from 'react'
import { units } from '../../../app/quantity/units.ts'
import { explainScalingFailure } from '../../../app/scaling/scaling-failure.ts'
import { expectedNow, heldMakesNow, signalDecimals, signalNow } from '../../chain/expected.ts'
import { grossNow } from '../../chain/gross-now.ts'
import { readingOff } from '../../chain/reading-off.ts'
import { decimalsOf, fixedText, signedFixedText, voltsText } from '../../figures/number-text.ts'
import { NotMeasured } from '../../parts/quantity.tsx'
import type { PointView } from '../../state/point-view.ts'

type Row = { where: string; unit: string; expected: string; measured: ReactNode; difference: ReactNode }

/** Expected beside measured at each place that has a value, from the load that is known to be on. */
export function ExpectedTable({ view }: { view: PointView }) {
  const { point, job, live } = view
  const sign = job.decimalSign
  const found = expectedNow(view)
  if (!found) return null
  if (!found.ok) return <p className="second">Nothing can be expected yet. {explainScalingFailure(found.failure)}</p>
  const chain = found.value
  const decimals = decimalsOf(point.scaleInterval)
  const interval = Number(point.scaleInterval)
  const [signal, gross] = [signalNow(view, chain), grossNow(view)]
  const inLoad = (value: number) => fixedText(value, decimals, sign)
  const load = chain.load.valueOf()
  const made = heldMakesNow(view, chain)
  const pressure = units[point.unit].dimension === 'pressure'
  const notNow = <NotMeasured>{live?.state === 'stale' ? 'stale' : undefined}</NotMeasured>
  // Of the two as they stand there: by the last digit the difference of longer numbers may be another one.
  const asShown = (value: number, expected: number, digits: number) =>
    signedFixedText(Number(value.toFixed(digits)) - Number(expected.toFixed(digits)), digits, sign)
  const rows: Row[] = [
    {
      where: pressure ? 'at the sensor' : 'on all sensors',
      unit: point.unit,
      expected: inLoad(chain.onSensors.valueOf()),
      measured: '',
      difference: '',
    },
    {
      where: 'sensors',
      unit: 'mV/V',
      expected: fixedText(chain.sensorSignal.valueOf(), 5, sign),
      measured: <NotMeasured />,
      difference: '',
    },
    {
      where: 'input',
      unit: signal?.unit ?? 'mV/V',
      expected: fixedText(signal?.expected ?? chain.inputSignal.valueOf(), signalDecimals(signal?.unit ?? 'mV/V'), sign),
      measured: signal ? fixedText(signal.value, signalDecimals(signal.unit), sign) : <NotMeasured />,
      difference: signal ? asShown(signal.value, signal.expected, signalDecimals(signal.unit)) : '',
    },
    ...(chain.millivolts && signal?.unit !== 'mV'
      ? [{ where: 'input', unit: 'mV', expected: fixedText(chain.millivolts.valueOf(), 4, sign), measured: '', difference: '' }]
      : []),
    ...(chain.heldReading
      ? [
          {
            where: 'held scaling makes',
            unit: point.unit,
            expected: inLoad(load),
            measured: made === undefined ? notNow : <span className="derived">{inLoad(made)}</span>,
            difference: made === undefined ? '' : signedFixedText(made - load, decimals, sign),
          },
        ]
      : []),
    {
      where: 'reading, gross',
      unit: point.unit,
      expected: inLoad(load),
      measured: gross === undefined ? <NotMeasured>{live?.state === 'stale' ? 'stale' : 'not read'}</NotMeasured> : inLoad(gross),
      difference:
        gross === undefined ? (
          ''
        ) : (
          <span className={readingOff(view) ? 'attention' : undefined}>{signedFixedText(gross - load, decimals, sign)}</span>
        ),
    },
  ]
  return (
    <>
      <table className="plain-table expected-table" aria-label="Expected under this load">
        <thead>
          <tr>
            <th scope="col">place</th>
            <th scope="col" className="is-right">
              expected
            </th>
            <th scope="col" className="is-right">
              live
            </th>
            <th scope="col" className="is-right">
              difference
            </th>
            <th scope="col" aria-label="unit" />
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={`${row.where} ${row.unit}`}>
              <td className="second">{row.where}</td>
              <td className="is-right nowrap">{row.expected}</td>
              <td className="is-right nowrap">{row.measured}</td>
              <td className="is-right nowrap">{row.difference}</td>
              <td className="unit">{row.unit}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="second small">
        {chain.zeroFrom === 'measured'
          ? 'Expected from the certificates, counted from the measured zero. '
          : `Expected from the certificates, zero balance and ${pressure ? 'head of fluid' : 'dead load'} included. `}
        {chain.excitation ? `mV by ${voltsText(chain.excitation.volts.valueOf(), sign)} V, ${chain.excitation.from}. ` : ''}
        {chain.heldReading
          ? `${made === undefined ? '' : 'In the table it is taken of the live signal, a zero set by command left out. '}From the expected signal the held scaling would make ${inLoad(chain.heldReading.valueOf())} ${units[point.unit].symbol}. `
          : ''}
        {gross === undefined || interval === 0 ? '' : `The reading is off by ${signedFixedText((gross - load) / interval, 1, sign)} d.`}
      </p>
    </>
  )
}
