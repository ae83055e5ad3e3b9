import type { Certificate } from '../../app/job/schema.ts'
import type { QuantityText } from '../../app/quantity/quantity-text.ts'
import { units } from '../../app/quantity/units.ts'
import { meanRatedOutput } from '../chain/certificate-line.ts'
import { fixedText, numberText } from '../figures/number-text.ts'
import { useDecimalSign } from '../parts/decimal-sign.ts'
import { QuantityField, TextField } from '../parts/edit-field.tsx'
import { Fact, Facts } from '../parts/facts.tsx'
import type { PointView } from '../state/point-view.ts'
import { type PointChange, usePointEdit } from '../state/use-point-edit.ts'

/** The sensors of a point, each with what its certificate states. */
export function SensorsPlace({ view }: { view: PointView }) {
  const { point, job } = view
  const { certificates, trimmed } = point.sensors
  const edit = usePointEdit(point.id)
  const mean = meanRatedOutput(point)
  const replace = (index: number, change: Partial<Certificate>): PointChange => ({
    sensors: { trimmed, certificates: certificates.map((c, i) => (i === index ? { ...c, ...change } : c)) },
  })
  return (
    <div className="stacked">
      <p className="second">
        {certificates.length === 0
          ? 'No sensor is entered yet.'
          : `${certificates.length} ${certificates.length === 1 ? 'sensor' : 'sensors in parallel'}`}
        {mean === undefined ? '' : `, mean rated output ${fixedText(mean, 5, job.decimalSign)} mV/V`}
        {trimmed ? ', junction box trimmed' : certificates.length > 1 ? ', junction box not trimmed' : ''}
      </p>
      <div className="columns">
        {certificates.map((c, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a certificate has no id of its own; its place in the list is what an edit names
          <section key={i} aria-label={`Sensor ${i + 1}`}>
            <h2>{certificates.length === 1 ? 'Sensor' : `Sensor ${i + 1}`}</h2>
            <TextField label="Serial number" value={c.serial} edit={edit} change={(serial) => replace(i, { serial })} />
            <TextField label="Certificate number" value={c.number} edit={edit} change={(number) => replace(i, { number })} />
            <TextField label="Certificate date" value={c.date} edit={edit} change={(date) => replace(i, { date })} />
            <QuantityField
              label="Capacity"
              value={c.capacity}
              dimensions={[units[c.capacity.unit].dimension, ...(units[c.capacity.unit].dimension === 'mass' ? (['force'] as const) : [])]}
              edit={edit}
              change={(capacity) => replace(i, { capacity })}
            />
            <QuantityField
              label="Rated output"
              value={c.ratedOutput}
              dimensions={['bridge-signal', 'voltage']}
              unit="mV/V"
              edit={edit}
              change={(ratedOutput) => replace(i, { ratedOutput })}
            />
            <Others certificate={c} />
          </section>
        ))}
      </div>
    </div>
  )
}

function Others({ certificate: c }: { certificate: Certificate }) {
  return (
    <Facts>
      <Fact label="Zero balance">{stated(c.zeroBalance)}</Fact>
      <Fact label="Input, output resistance">
        {stated(c.inputResistance)}, {stated(c.outputResistance)}
      </Fact>
      <Fact label="Excitation, at most">{stated(c.excitationMaximum)}</Fact>
      <Fact label="Gravity behind it">{typeof c.gravity === 'string' ? c.gravity.replace('-', ' ') : stated(c.gravity)}</Fact>
    </Facts>
  )
}

const stated = (quantity: QuantityText | undefined) =>
  quantity ? <Stated quantity={quantity} /> : <span className="second">not stated</span>

function Stated({ quantity }: { quantity: QuantityText }) {
  const sign = useDecimalSign()
  return (
    <span className="nowrap">
      {numberText(quantity.value, sign)} <span className="unit">{units[quantity.unit].symbol}</span>
    </span>
  )
}
