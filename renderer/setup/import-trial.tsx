import { Button } from '@mantine/core'
import type { Job, Point } from '../../app/job/schema.ts'
import { units } from '../../app/quantity/units.ts'
import { numberText } from '../figures/number-text.ts'
import { Shape } from '../parts/quantity.tsx'
import { inWords } from '../table/choice.ts'
import type { Import } from './use-import.ts'

const points = (count: number) => (count === 1 ? 'one point' : `${inWords(count)} points`)
const rowsOf = (errors: readonly { row: number }[]) => new Set(errors.map((e) => e.row)).size

/** What an import would add, and what is wrong with it row by row; then the key that adds it. */
export function ImportTrial({ job, trial, onDone }: { job: Job; trial: Import; onDone: () => void }) {
  const { tried, added, running, failure, add } = trial
  if (added)
    return (
      <div className="button-row" role="status">
        <span>
          <b>{points(added.points.length)} added</b>: {added.points.map((p) => p.tag).join(', ')}.
          {added.errors.length > 0 ? ` ${rowsOf(added.errors)} of the rows left out.` : ''}
        </span>
        <Button onClick={onDone}>Close</Button>
      </div>
    )
  if (failure)
    return (
      <p className="lost" role="alert">
        {failure}
      </p>
    )
  if (!tried) return null
  const sound = tried.points.length
  const bare = tried.columns.find((c) => c.bareIn !== undefined)
  return (
    <>
      {tried.errors.length > 0 ? (
        <p className="lost" role="status">
          <Shape kind="square" />
          {rowsOf(tried.errors)} {rowsOf(tried.errors) === 1 ? 'row is' : 'rows are'} not right; nothing is added yet
        </p>
      ) : null}
      {tried.errors.length > 0 ? (
        <table className="plain-table" aria-label="What is not right">
          <thead>
            <tr>
              <th scope="col">Row</th>
              <th scope="col">Column</th>
              <th scope="col">What is wrong</th>
            </tr>
          </thead>
          <tbody>
            {tried.errors.map((e) => (
              <tr key={`${e.row} ${e.column} ${e.why}`}>
                <td>{e.row}</td>
                <td>{e.column}</td>
                <td>{e.why}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : null}
      <div className="button-row">
        {tried.errors.length === 0 ? (
          <>
            <Button loading={running} disabled={sound === 0} onClick={() => void add(false)}>
              Add {points(sound)}
            </Button>
            <span className="second">Nothing is added before that, and nothing is written to an indicator.</span>
          </>
        ) : sound > 0 ? (
          <Button loading={running} onClick={() => void add(true)}>
            Add the {points(sound)} that {sound === 1 ? 'is' : 'are'} right, leave out the rest
          </Button>
        ) : null}
      </div>
      {bare ? (
        <p>
          <span className="second">“{bare.heading}” has no unit: taken in</span> {bare.bareIn?.map((u) => units[u].symbol).join(', ')}
          <span className="second">, {bare.bareIn?.length === 1 ? 'that' : 'those'} of the maximum load.</span>
        </p>
      ) : null}
      {sound > 0 ? (
        <table className="plain-table" aria-label="What would be added">
          <thead>
            <tr>
              <th scope="col">Tag</th>
              <th scope="col">Name</th>
              <th scope="col">Indicator</th>
              <th scope="col" className="is-right">
                Maximum load
              </th>
              <th scope="col" className="is-right">
                Scale interval d
              </th>
              <th scope="col">Sensors</th>
            </tr>
          </thead>
          <tbody>
            {tried.points.map((p) => (
              <TrialRow key={p.id} job={job} point={p} />
            ))}
          </tbody>
        </table>
      ) : null}
    </>
  )
}

function TrialRow({ job, point }: { job: Job; point: Point }) {
  const indicator = job.indicators.find((i) => i.id === point.indicatorId)
  const symbol = units[point.unit].symbol
  const { certificates } = point.sensors
  const [first] = certificates
  return (
    <tr>
      <td>
        <b>{point.tag}</b>
      </td>
      <td>{point.name}</td>
      <td>{indicator ? `${indicator.name}, channel ${point.channel}` : <span className="second">none yet</span>}</td>
      <td className="is-right">
        {numberText(point.maximumLoad, job.decimalSign)} <span className="unit">{symbol}</span>
      </td>
      <td className="is-right">
        {numberText(point.scaleInterval, job.decimalSign)} <span className="unit">{symbol}</span>
      </td>
      <td>
        {first
          ? `${certificates.length} × ${first.capacity ? `${numberText(first.capacity.value, job.decimalSign)} ${units[first.capacity.unit].symbol}` : 'capacity not stated'}`
          : '–'}
      </td>
    </tr>
  )
}
