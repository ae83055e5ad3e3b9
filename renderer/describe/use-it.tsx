import { Button, NativeSelect, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { HostCalls } from '../../app/contract/contract.ts'
import type { Job } from '../../app/job/schema.ts'
import { parseNumber } from '../../app/quantity/parse.ts'
import { type UnitId, unitIds } from '../../app/quantity/units.ts'
import { useDecimalSign } from '../parts/decimal-sign.ts'
import { useRequest } from '../state/host-context.tsx'
import { open } from '../state/navigation.ts'
import type { Described } from './described.ts'
import { explainUnfit } from './problem-text.ts'

const aNewOne = ''

/** Gives the unit that was looked at to the job by the saved profile: as a new measuring point, or at one that is there. */
export function UseIt({ described, job }: { described: Described; job: Job }) {
  const sign = useDecimalSign()
  const { draft, unit } = described
  const known = job.indicators.find((i) => i.busId === unit?.busId && i.unit === unit?.unit)
  const addIndicator = useRequest('indicator.add')
  const editIndicator = useRequest('indicator.edit')
  const addPoint = useRequest('point.add')
  const editPoint = useRequest('point.edit')
  const identify = useRequest('indicator.identify')
  const read = useRequest('settings.read')
  const live = useRequest('live.start')
  const reading = draft.registers.find((r) => r.name === 'live.reading' || r.name === 'live.gross')
  const [pointId, setPointId] = useState(aNewOne)
  const [tag, setTag] = useState('')
  const [unitTyped, setUnitTyped] = useState<string>(typeof reading?.unit === 'string' ? reading.unit : 'kg')
  const [maximum, setMaximum] = useState('')
  const [interval, setInterval] = useState('')
  const [problem, setProblem] = useState<string | null>(null)
  if (!unit) return null
  const withoutIndicator = job.points.filter((p) => p.indicatorId === undefined)
  const users = job.points.filter((p) => p.indicatorId !== undefined && p.indicatorId === known?.id)

  async function give(revision: number): Promise<{ id: string; revision: number } | null> {
    if (!unit) return null
    if (known) {
      if (known.profileId === draft.id) return { id: known.id, revision }
      const edited = await editIndicator.ask({ revision, indicatorId: known.id, change: { profileId: draft.id } })
      return edited.ok ? { id: known.id, revision: edited.value.revision } : null
    }
    const added = await addIndicator.ask({ revision, indicator: { name: draft.name, ...unit, profileId: draft.id } })
    return added.ok ? added.value : null
  }

  async function put(event: FormEvent) {
    event.preventDefault()
    setProblem(null)
    const [most, step] = [parseNumber(maximum, sign), parseNumber(interval, sign)]
    const isNew = pointId === aNewOne && users.length === 0
    if (isNew && tag.trim() === '') return setProblem('A point needs a tag, e.g. WT-105.')
    if (isNew && !unitIds.some((id) => id === unitTyped)) return setProblem(`"${unitTyped}" is no known unit: write e.g. kg, t, kN, bar.`)
    if (isNew && !(most.ok && step.ok)) return setProblem('Maximum load and scale interval are numbers in that unit, e.g. 1000 and 0.2.')
    const given = await give(job.revision)
    if (!given) return
    const made =
      isNew && most.ok && step.ok
        ? await addPoint.ask({
            revision: given.revision,
            point: newPoint(tag.trim(), unitTyped as UnitId, most.value, step.value, given.id),
          })
        : pointId === aNewOne
          ? null
          : await editPoint.ask({ revision: given.revision, pointId, change: { indicatorId: given.id } })
    if (made && !made.ok) return
    // Reads only: who it is, and what it holds.
    const identified = await identify.ask({ indicatorId: given.id })
    if (identified.ok) await read.ask({ indicatorId: given.id })
    const added = made?.ok && 'id' in made.value ? [String(made.value.id)] : []
    await live.ask({ pointIds: [...job.points.map((p) => p.id), ...added] })
    open({ pointId: null, place: 'reading' })
  }
  const failure = addIndicator.failure ?? editIndicator.failure ?? addPoint.failure ?? editPoint.failure

  return (
    <form className="use-it" onSubmit={put}>
      <h3>Use it for unit {unit.unit}</h3>
      {users.length > 0 ? (
        <p>
          {users.map((p) => p.tag).join(', ')} {users.length === 1 ? 'measures' : 'measure'} on this unit
          {known?.profileId === draft.id ? ' and go by this profile now.' : ' by another profile.'}
        </p>
      ) : (
        <div className="fields">
          {withoutIndicator.length > 0 ? (
            <NativeSelect
              label="Measuring point"
              value={pointId}
              data={[{ value: aNewOne, label: 'a new one' }, ...withoutIndicator.map((p) => ({ value: p.id, label: p.tag }))]}
              onChange={(event) => setPointId(event.currentTarget.value)}
            />
          ) : null}
          {pointId === aNewOne ? (
            <>
              <TextInput
                label="Tag"
                placeholder="e.g. WT-105"
                value={tag}
                maxLength={40}
                onChange={(event) => setTag(event.currentTarget.value)}
              />
              <TextInput label="Unit" value={unitTyped} onChange={(event) => setUnitTyped(event.currentTarget.value)} />
              <TextInput
                label="Maximum load"
                placeholder="e.g. 1000"
                value={maximum}
                onChange={(event) => setMaximum(event.currentTarget.value)}
              />
              <TextInput
                label="Scale interval"
                placeholder="e.g. 0.2"
                value={interval}
                onChange={(event) => setInterval(event.currentTarget.value)}
              />
            </>
          ) : null}
        </div>
      )}
      {problem ? <p className="lost">{problem}</p> : null}
      {failure ? <p className="lost">{explainUnfit(failure)}</p> : null}
      {users.length > 0 && known?.profileId === draft.id ? null : (
        <Button
          type="submit"
          variant="filled"
          loading={addIndicator.running || addPoint.running || identify.running || read.running}
          disabled={users.length === 0 && pointId === aNewOne && tag.trim() === ''}
        >
          {users.length > 0 ? `Use this profile for ${users.map((p) => p.tag).join(', ')}` : 'Measure with it'}
        </Button>
      )}
    </form>
  )
}

type NewPoint = HostCalls['point.add']['request']['point']
const newPoint = (tag: string, unit: UnitId, maximumLoad: string, scaleInterval: string, indicatorId: string): NewPoint => ({
  ...{ tag, name: '', indicatorId, channel: 1, unit, maximumLoad, scaleInterval, measured: {}, wiring: {} },
  loadPath: { sharePercent: '100' },
  sensors: { certificates: [], trimmed: false },
})
