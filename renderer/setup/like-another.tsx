import { NativeSelect, NumberInput, TextInput } from '@mantine/core'
import { useState } from 'react'
import type { PointTemplate } from '../../app/contract/import-calls.ts'
import type { Job } from '../../app/job/schema.ts'
import { channelsOf } from '../state/profiles.ts'
import { ImportTrial } from './import-trial.tsx'
import { useImport } from './use-import.ts'

/** Many points after one of the job: same loads and sensor model; what a certificate says of one sensor is not taken over. */
export function LikeAnother({ job, onDone }: { job: Job; onDone: () => void }) {
  const [pointId, setPointId] = useState(job.points[0]?.id ?? '')
  const [tagPattern, setTagPattern] = useState(() => patternAfter(job.points[0]?.tag ?? 'WT-1'))
  const [firstNumber, setFirst] = useState(() => nextNumber(patternAfter(job.points[0]?.tag ?? ''), job))
  const [count, setCount] = useState(4)
  const [indicatorId, setIndicator] = useState('')
  const [firstChannel, setChannel] = useState(1)
  const template: PointTemplate = {
    pointId,
    tagPattern,
    firstNumber,
    count,
    ...(indicatorId ? { onIndicator: { indicatorId, firstChannel } } : {}),
  }
  const trial = useImport(pointId && tagPattern ? { template } : null)
  const channels = channelsOf(job, indicatorId)

  return (
    <>
      <div className="field-row">
        <NativeSelect
          label="Like"
          value={pointId}
          data={job.points.map((p) => ({ value: p.id, label: `${p.tag} ${p.name}` }))}
          onChange={(event) => {
            const pattern = patternAfter(job.points.find((p) => p.id === event.currentTarget.value)?.tag ?? '')
            setPointId(event.currentTarget.value)
            setTagPattern(pattern)
            setFirst(nextNumber(pattern, job))
          }}
        />
        <TextInput label="Tags, # for each digit" value={tagPattern} onChange={(event) => setTagPattern(event.currentTarget.value)} />
        <WholeNumber label="First number" value={firstNumber} min={0} max={999_999} onChange={setFirst} />
        <WholeNumber label="How many" value={count} min={1} max={500} onChange={setCount} />
        <NativeSelect
          label="On indicator"
          value={indicatorId}
          data={[{ value: '', label: 'none yet' }, ...job.indicators.map((i) => ({ value: i.id, label: i.name }))]}
          onChange={(event) => setIndicator(event.currentTarget.value)}
        />
        {indicatorId ? <WholeNumber label="From channel" value={firstChannel} min={1} max={channels} onChange={setChannel} /> : null}
      </div>
      <ImportTrial job={job} trial={trial} onDone={onDone} />
    </>
  )
}

/** "WT-101" leads to "WT-1##", whose numbers start anew. */
export const patternAfter = (tag: string): string => {
  const digits = /(\d{1,2})$/.exec(tag)?.[1]
  return digits ? tag.slice(0, -digits.length) + '#'.repeat(digits.length) : `${tag}##`
}

/** The number after the highest that a tag of this pattern has. */
export function nextNumber(pattern: string, { points }: Pick<Job, 'points'>): number {
  const from = pattern.indexOf('#')
  const to = pattern.lastIndexOf('#') + 1
  const numbers = points
    .map(({ tag }) => tag)
    .filter((tag) => tag.length === pattern.length && tag.startsWith(pattern.slice(0, from)) && tag.endsWith(pattern.slice(to)))
    .map((tag) => Number(tag.slice(from, to)))
  return Math.max(0, ...numbers.filter(Number.isInteger)) + 1
}

function WholeNumber({
  label,
  value,
  min,
  max,
  onChange,
}: {
  label: string
  value: number
  min: number
  max: number
  onChange: (value: number) => void
}) {
  return (
    <NumberInput
      label={label}
      value={value}
      min={min}
      max={max}
      allowDecimal={false}
      clampBehavior="strict"
      className="short-input"
      onChange={(typed) => {
        if (typeof typed === 'number') onChange(typed)
      }}
    />
  )
}
