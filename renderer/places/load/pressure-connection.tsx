import type { LoadPath } from '../../../app/job/load-path.ts'
import { exact } from '../../../app/quantity/exact.ts'
import { alwaysOn } from '../../../app/scaling/always-on.ts'
import { explainScalingFailure } from '../../../app/scaling/scaling-failure.ts'
import { decimalsOf, signedFixedText } from '../../figures/number-text.ts'
import { ChoiceField } from '../../parts/choice-field.tsx'
import { QuantityField } from '../../parts/edit-field.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointChoice, usePointEdit } from '../../state/use-point-edit.ts'

const kinds = [
  { value: '', label: 'not stated' },
  { value: 'gauge', label: 'gauge, against the air' },
  { value: 'absolute', label: 'absolute' },
  { value: 'differential', label: 'differential' },
] as const
const says = {
  gauge: 'Zero only after "vented".',
  absolute: 'Never zeroed: vented, it reads the air.',
  differential: 'Zero with both sides joined and at one pressure.',
} as const

/** How the process reaches a pressure sensor: what it measures against, and the column of fluid between. */
export function PressureConnection({ view }: { view: PointView }) {
  const { point, job } = view
  const { loadPath } = point
  const edit = usePointEdit(point.id)
  const { put } = usePointChoice(point.id)
  const { pressure, head, ...rest } = loadPath
  const withHead = (change: Partial<NonNullable<LoadPath['head']>>) => ({
    loadPath: {
      ...loadPath,
      head: {
        height: head?.height ?? { value: '0', unit: 'm' as const },
        density: head?.density ?? { value: '1000', unit: 'kg/m3' as const },
        ...change,
      },
    },
  })
  const computed = alwaysOn(point)
  return (
    <>
      <ChoiceField
        label="Measures"
        term="gauge pressure"
        value={pressure ?? ''}
        options={kinds}
        onChoose={(kind) => put({ loadPath: { ...rest, ...(head ? { head } : {}), ...(kind === '' ? {} : { pressure: kind }) } })}
        beside={pressure ? says[pressure] : 'gauge, absolute or differential decides what zero means'}
      />
      <QuantityField
        label="Head of fluid"
        term="head of fluid"
        value={head?.height}
        dimensions={['length']}
        unit="m"
        edit={edit}
        change={(height) => withHead({ height })}
        clear={() => ({ loadPath: { ...rest, ...(pressure ? { pressure } : {}) } })}
        beside={head ? 'from the sensor up to the tapping; below it negative' : 'none stated: sensor level with the tapping'}
      />
      {head ? (
        <QuantityField
          label="Density of it"
          value={head.density}
          dimensions={['density']}
          unit="kg/m3"
          edit={edit}
          change={(density) => withHead({ density })}
          beside={
            computed.ok
              ? `${signedFixedText(computed.value.load.valueOf(), decimalsOf(point.scaleInterval) + 1, job.decimalSign)} ${point.unit} at the sensor, ${signedFixedText(computed.value.load.div(exact(point.scaleInterval)).valueOf(), 1, job.decimalSign)} d${computed.value.gravityAssumed ? ', with standard gravity' : ''}`
              : explainScalingFailure(computed.failure)
          }
        />
      ) : null}
    </>
  )
}
