import { normalGravity } from '../../../app/loadpath/normal-gravity.ts'
import { degrees, metres } from '../../../app/quantity/double.ts'
import { exact } from '../../../app/quantity/exact.ts'
import { units } from '../../../app/quantity/units.ts'
import { gravityHere, gravityStated } from '../../../app/scaling/gravity-ratio.ts'
import { explainScalingFailure } from '../../../app/scaling/scaling-failure.ts'
import { fixedText, numberText, signedFixedText } from '../../figures/number-text.ts'
import { NumberField, QuantityField } from '../../parts/edit-field.tsx'
import { Fact, Facts } from '../../parts/facts.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointEdit } from '../../state/use-point-edit.ts'

/** Digits that the formula is worth: the local anomaly is some 50 ppm and more. */
const computedDecimals = 4

/** Gravity at the machine, typed or from latitude and height, against the one behind the certificates. */
export function Gravity({ view }: { view: PointView }) {
  const { point, job } = view
  const { loadPath } = point
  const sign = job.decimalSign
  const edit = usePointEdit(point.id)
  const { gravityFrom, gravityHere: _here, ...rest } = loadPath
  const from = (change: { latitude?: string; height?: string }) => {
    const next = { latitude: gravityFrom?.latitude ?? '', height: gravityFrom?.height ?? '0', ...change }
    if (next.latitude === '') return {}
    const value = normalGravity(degrees(Number(next.latitude)), metres(Number(next.height))).toFixed(computedDecimals)
    return { loadPath: { ...rest, gravityFrom: next, gravityHere: { value, unit: 'm/s2' as const } } }
  }
  const here = gravityHere(point)
  const there = point.sensors.certificates.map((c) => ({ c, value: gravityStated(c.gravity, 'certificate') }))
  const [first] = there
  const ratio = here.ok && here.value && first?.value.ok && first.value.value ? here.value.div(first.value.value) : undefined
  return (
    <>
      <QuantityField
        label="Gravity here"
        value={loadPath.gravityHere}
        dimensions={['acceleration']}
        unit="m/s2"
        edit={edit}
        change={(gravity) => ({ loadPath: { ...rest, gravityHere: gravity } })}
        clear={() => ({ loadPath: rest })}
        beside={gravityFrom ? 'computed from latitude and height' : loadPath.gravityHere ? 'typed' : undefined}
      />
      <NumberField
        label="or from latitude"
        value={gravityFrom?.latitude ?? ''}
        unit={null}
        edit={edit}
        change={(latitude) => from({ latitude })}
        beside="degrees"
      />
      {gravityFrom ? (
        <NumberField
          label="and height"
          value={gravityFrom.height}
          unit="m"
          edit={edit}
          change={(height) => from({ height })}
          beside="above sea. The formula misses the local anomaly, some 0.005 % and more."
        />
      ) : null}
      {here.ok ? null : <p className="lost">{explainScalingFailure(here.failure)}</p>}
      <Facts>
        <Fact label="Behind the certificate">
          {first === undefined ? (
            <span className="second">no certificate</span>
          ) : first.c.gravity === 'standard' ? (
            'standard, 9.80665 m/s²'.replace('.', sign)
          ) : first.c.gravity === 'not-stated' ? (
            <span className="second">not stated</span>
          ) : (
            `laboratory's, ${numberText(first.c.gravity.value, sign)} ${units[first.c.gravity.unit].symbol}`
          )}
        </Fact>
        <Fact label="Here ÷ certificate">
          {ratio ? fixedText(ratio.valueOf(), 6, sign) : <span className="second">taken as equal</span>}
        </Fact>
        {ratio ? (
          <Fact label="Left out, it would cost">
            {signedFixedText(ratio.sub(exact('1')).mul(exact(point.maximumLoad)).div(exact(point.scaleInterval)).valueOf(), 1, sign)}{' '}
            <span className="unit">d at maximum load</span>
          </Fact>
        ) : null}
      </Facts>
    </>
  )
}
