import { Button, NativeSelect, NumberInput, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import type { Indicator, Job } from '../../app/job/schema.ts'
import { sealNumbersWrong } from '../../app/job/seal-numbers.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { Failed } from '../parts/failed.tsx'
import { Seal } from '../places/settings/seal.tsx'
import { useRequest, useTopic } from '../state/host-context.tsx'
import { Labelled } from '../terms/labelled.tsx'

export type IndicatorDraft = Pick<Indicator, 'name' | 'busId' | 'unit' | 'profileId'>

/** One indicator: its name, the bus and address where it answers, and the profile that describes it. */
export function IndicatorForm({
  job,
  indicator,
  draft,
  onDone,
}: {
  job: Job
  indicator: Indicator | null
  draft: Partial<IndicatorDraft>
  onDone: () => void
}) {
  const addition = useRequest('indicator.add')
  const edit = useRequest('indicator.edit')
  const profiles = [...new Map([...bundledProfiles, ...job.profiles.map((p) => [p.id, p] as const)]).values()]
  const [now, setNow] = useState<IndicatorDraft>({
    name: '',
    busId: job.buses[0]?.id ?? '',
    unit: 1,
    profileId: profiles[0]?.id ?? '',
    ...(indicator ? pick(indicator) : {}),
    ...draft,
  })
  const [newSeals, setSeals] = useState('')
  const isSealed = indicator?.sealed !== undefined && !indicator.sealed.broken
  const seals = isSealed ? (indicator.sealed?.seals ?? '') : newSeals
  const sealsWrong = seals.trim() === '' || isSealed ? null : sealNumbersWrong(seals)
  const visitId = useTopic('session')?.visitId
  const visit = job.visits.find((v) => v.id === visitId)
  const set = (change: Partial<IndicatorDraft>) => setNow((held) => ({ ...held, ...change }))
  const failure = addition.failure ?? edit.failure

  const save = async (event: FormEvent) => {
    event.preventDefault()
    const named = { ...now, name: now.name.trim() || `Unit ${now.unit}` }
    const sealed = isSealed || seals.trim() === '' ? {} : { sealed: { seals } }
    if (indicator) {
      const answer = await edit.ask({
        revision: job.revision,
        indicatorId: indicator.id,
        change: { ...changed(pick(indicator), named), ...sealed },
      })
      if (answer.ok) onDone()
      return
    }
    const answer = await addition.ask({ revision: job.revision, indicator: { ...named, ...sealed } })
    // Whether it answers, and who it is, is told where the indicators are listed.
    if (answer.ok) onDone()
  }

  return (
    <>
      <form className="stacked" onSubmit={save} aria-label={indicator ? `Edit ${indicator.name}` : 'Add an indicator'}>
        <div className="field-row">
          <TextInput
            label="Name"
            value={now.name}
            placeholder={`Unit ${now.unit}`}
            onChange={(e) => set({ name: e.currentTarget.value })}
          />
          <NativeSelect
            label="Bus"
            value={now.busId}
            data={job.buses.map((b) => ({ value: b.id, label: b.name }))}
            onChange={(e) => set({ busId: e.currentTarget.value })}
          />
          <NumberInput
            label="Unit address"
            className="short-input"
            value={now.unit}
            min={0}
            max={255}
            allowDecimal={false}
            clampBehavior="strict"
            onChange={(unit) => (typeof unit === 'number' ? set({ unit }) : undefined)}
          />
          <NativeSelect
            label="Profile"
            className="long-input"
            value={now.profileId}
            data={profiles.map((p) => ({ value: p.id, label: p.name }))}
            onChange={(e) => set({ profileId: e.currentTarget.value })}
          />
          <TextInput
            label={<Labelled label="Seal numbers" term="seal" />}
            placeholder={indicator?.sealed ? 'seal broken' : 'not sealed'}
            maxLength={400}
            value={seals}
            disabled={isSealed}
            error={sealsWrong}
            onChange={(e) => setSeals(e.currentTarget.value)}
            autoComplete="off"
          />
          <Button
            type="submit"
            className="in-field-row"
            disabled={!now.busId || sealsWrong !== null}
            loading={addition.running || edit.running}
          >
            {indicator ? 'Keep this' : 'Add this indicator'}
          </Button>
          <Button className="in-field-row" onClick={onDone}>
            Cancel
          </Button>
        </div>
        <Failed of={failure} />
        {indicator ? (
          <p className="second">Another bus, address or profile makes it another unit: it is identified and read anew.</p>
        ) : null}
        {isSealed ? <p className="second">Seal numbers are changed by breaking the seal, with name and reason.</p> : null}
        {!isSealed && seals.trim() !== '' && sealsWrong === null ? (
          <p className="attention">Once this is kept, the indicator is read-only until the seal is broken, with name and reason.</p>
        ) : null}
      </form>
      {indicator?.sealed ? <Seal indicator={indicator} visit={visit} /> : null}
    </>
  )
}

const pick = ({ name, busId, unit, profileId }: Indicator): IndicatorDraft => ({ name, busId, unit, profileId })
const changed = (held: IndicatorDraft, next: IndicatorDraft): Partial<IndicatorDraft> =>
  Object.fromEntries(Object.entries(next).filter(([key, value]) => held[key as keyof IndicatorDraft] !== value))
