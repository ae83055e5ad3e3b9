import { Button, CloseButton } from '@mantine/core'
import { hasJunctionBox } from '../../../app/bridge/point-wiring.ts'
import type { CableRun, SeriesPart, Wired } from '../../../app/job/wiring.ts'
import { ChoiceField } from '../../parts/choice-field.tsx'
import { QuantityField, TextField } from '../../parts/edit-field.tsx'
import { Failed } from '../../parts/failed.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointChoice, usePointEdit } from '../../state/use-point-edit.ts'
import { Term } from '../../terms/term.tsx'
import type { TermName } from '../../terms/terms.ts'
import { ConductorChoice } from './conductor-choice.tsx'

/** Wiring, a cable or a part without what may be left unstated. */
function without<T extends object, K extends keyof T>(of: T, key: K): Omit<T, K> {
  const { [key]: _gone, ...rest } = of
  return rest
}

/** Wires, where they join, the cables and whatever else lies in the leads. */
export function LeadsForm({ view }: { view: PointView }) {
  const { point } = view
  const { wiring, sensors } = point
  const edit = usePointEdit(point.id)
  const { put, failure } = usePointChoice(point.id)
  const several = sensors.certificates.length > 1
  const box = hasJunctionBox(wiring, sensors.certificates.length)
  const set = (change: Partial<Wired>) => put({ wiring: { ...wiring, ...change } })
  return (
    <>
      <fieldset className="button-row bare" aria-label="Wires in the cable">
        {([4, 6] as const).map((n) => (
          <Button key={n} aria-pressed={wiring.wires === n} onClick={() => set({ wires: n })}>
            {n === 4 ? 'Four wires' : 'Six wires'}
          </Button>
        ))}
      </fieldset>
      <ChoiceField
        label="Junction box"
        term="junction box"
        value={box ? 'yes' : 'no'}
        options={[
          { value: 'yes', label: several ? 'all sensors join in one' : 'between cable and sensor' },
          { value: 'no', label: 'none' },
        ]}
        onChoose={(chosen) => set({ junctionBox: chosen === 'yes' })}
      />
      {wiring.wires === 6 ? (
        <ChoiceField
          label="Sense joins"
          term="six-wire"
          value={wiring.senseAt ?? ''}
          options={[
            { value: '', label: 'not stated' },
            ...(box ? [{ value: 'junction-box' as const, label: 'in the junction box' }] : []),
            { value: 'sensor', label: several ? 'at one sensor' : 'at the sensor' },
            { value: 'indicator', label: 'at the indicator' },
          ]}
          onChoose={(at) => put({ wiring: at === '' ? without(wiring, 'senseAt') : { ...wiring, senseAt: at } })}
          beside="what lies between there and the indicator costs nothing"
        />
      ) : null}
      <CableFields
        view={view}
        name={box ? 'Cable to the box' : 'Cable, beyond the sensor’s own'}
        term="extension cable"
        run={wiring.cable}
        change={(run) => ({ wiring: run ? { ...wiring, cable: run } : without(wiring, 'cable') })}
      />
      {box ? (
        <CableFields
          view={view}
          name="Extension to each sensor"
          term="extension cable"
          run={wiring.sensorExtension}
          change={(run) => ({ wiring: run ? { ...wiring, sensorExtension: run } : without(wiring, 'sensorExtension') })}
        />
      ) : null}
      <OwnCable view={view} />
      {wiring.cable || wiring.sensorExtension || wiring.ownCable ? (
        <QuantityField
          label="Copper at"
          value={wiring.temperature}
          dimensions={['temperature']}
          unit="degC"
          edit={edit}
          change={(temperature) => ({ wiring: { ...wiring, temperature } })}
          clear={() => ({ wiring: without(wiring, 'temperature') })}
          beside={wiring.temperature ? undefined : '20 °C is taken'}
        />
      ) : null}
      <Series view={view} box={box} />
      <Failed of={failure} />
    </>
  )
}

function CableFields(props: {
  view: PointView
  name: string
  term: TermName
  run: CableRun | undefined
  change: (run: CableRun | undefined) => { wiring: Wired }
}) {
  const { view, name, term, run, change } = props
  const edit = usePointEdit(view.point.id)
  const { put } = usePointChoice(view.point.id)
  return (
    <>
      <ConductorChoice
        label={name}
        term={term}
        value={run?.conductor}
        none="none stated"
        onChoose={(conductor) => put(change(conductor && { ...run, conductor }))}
      />
      {run ? (
        <QuantityField
          label={`Length, ${name.toLowerCase()}`}
          value={run.length}
          dimensions={['length']}
          unit="m"
          edit={edit}
          change={(length) => change({ ...run, length })}
          clear={() => change(without(run, 'length'))}
          beside="one way; the way back is counted"
        />
      ) : null}
    </>
  )
}

/** The cable that is inside the certificate: only its change since counts. */
function OwnCable({ view }: { view: PointView }) {
  const { wiring } = view.point
  const own = wiring.ownCable
  const edit = usePointEdit(view.point.id)
  const { put } = usePointChoice(view.point.id)
  return (
    <>
      <ConductorChoice
        label="Sensor’s own cable, if changed"
        value={own?.conductor}
        none="as in the certificate"
        onChoose={(conductor) =>
          put({
            wiring: conductor ? { ...wiring, ownCable: { ...own, conductor } } : without(wiring, 'ownCable'),
          })
        }
      />
      {own ? (
        <>
          <QuantityField
            label="calibrated with"
            value={own.calibrated}
            dimensions={['length']}
            unit="m"
            edit={edit}
            change={(calibrated) => ({ wiring: { ...wiring, ownCable: { ...own, calibrated } } })}
            clear={() => ({ wiring: { ...wiring, ownCable: without(own, 'calibrated') } })}
          />
          <QuantityField
            label="now"
            value={own.now}
            dimensions={['length']}
            unit="m"
            edit={edit}
            change={(now) => ({ wiring: { ...wiring, ownCable: { ...own, now } } })}
            clear={() => ({ wiring: { ...wiring, ownCable: without(own, 'now') } })}
            beside="cut off or joined since: only the difference counts"
          />
        </>
      ) : null}
    </>
  )
}

/** Barriers, slip rings and the like: ohms in every lead. */
function Series({ view, box }: { view: PointView; box: boolean }) {
  const { wiring } = view.point
  const edit = usePointEdit(view.point.id)
  const { put } = usePointChoice(view.point.id)
  const parts = wiring.series ?? []
  const withParts = (next: SeriesPart[]) => ({ wiring: next.length > 0 ? { ...wiring, series: next } : without(wiring, 'series') })
  const exchange = (i: number, part: SeriesPart) => withParts(parts.map((p, j) => (j === i ? part : p)))
  return (
    <>
      {parts.map((part, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a part has no id of its own; its place in the list is what an edit names
        <fieldset key={i} className="bare step-row" aria-label={`Series part ${i + 1}`}>
          <TextField
            bare
            label={`Series part ${i + 1}, what`}
            value={part.what}
            edit={edit}
            change={(what) => exchange(i, { ...part, what })}
          />
          <QuantityField
            bare
            label={`Series part ${i + 1}, ohms of one lead`}
            value={part.ohms}
            dimensions={['resistance']}
            unit="ohm"
            edit={edit}
            change={(ohms) => exchange(i, { ...part, ohms })}
            clear={() => exchange(i, without(part, 'ohms'))}
          />
          {box ? (
            <ChoiceField
              bare
              label={`Series part ${i + 1}, where`}
              value={part.between}
              options={[
                { value: 'indicator-and-box', label: 'before the box' },
                { value: 'box-and-sensor', label: 'at each sensor' },
              ]}
              onChoose={(between) => (between === '' ? undefined : put(exchange(i, { ...part, between })))}
            />
          ) : null}
          <CloseButton
            size="sm"
            aria-label={`Remove series part ${i + 1}`}
            onClick={() => put(withParts(parts.filter((_, j) => j !== i)))}
          />
        </fieldset>
      ))}
      <div className="button-row">
        <Button onClick={() => put(withParts([...parts, { what: 'barrier', between: 'indicator-and-box' }]))}>Add a series part</Button>
        <span className="second small">
          <Term of="barrier">barrier</Term>, slip rings: ohms of one lead
        </span>
      </div>
    </>
  )
}
