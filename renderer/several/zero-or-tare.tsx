import { Button, Checkbox } from '@mantine/core'
import { useCallback, useEffect, useState } from 'react'
import { appliedWords } from '../../app/applied-words.ts'
import type { Job, Point } from '../../app/job/schema.ts'
import { makeAllSafe } from '../../app/safety-words.ts'
import { scalingDoubt } from '../chain/scaling-doubt.ts'
import { explain } from '../figures/explain.ts'
import { clockText, numberText } from '../figures/number-text.ts'
import { Panel } from '../parts/panel.tsx'
import { ScalingInDoubt } from '../parts/scaling-in-doubt.tsx'
import { useAsking } from '../state/host-context.tsx'
import { usePointViews } from '../state/point-view.ts'
import { profileOf } from '../state/profiles.ts'
import { closePanel } from '../table/below.ts'
import { type Scope, scopeWords } from '../table/choice.ts'
import { Term } from '../terms/term.tsx'
import { amountText, isConfirmed, type Row, rowOf } from './command-row.ts'
import { runSeveral } from './runs.ts'

type Command = 'zero' | 'tare'

/** Zero or tare of several points: each with what it takes off; what is above the limit, or under pressure, is confirmed singly. */
export function ZeroOrTare({ job, scope }: { job: Job; scope: Scope }) {
  const ask = useAsking()
  const [command, setCommand] = useState<Command>('zero')
  const [rows, setRows] = useState<readonly Row[]>([])
  const words = scopeWords(scope, job)
  const ids = scope.ids.join()
  const doubtful = usePointViews(scope.ids).flatMap((view) => (scalingDoubt(view) ? [view.point.id] : []))

  // biome-ignore lint/correctness/useExhaustiveDependencies: read anew for another choice or command, not for every edit of the job
  const lookAt = useCallback(
    async (point: Point) => {
      const show = (row: Row) => setRows((now) => now.map((r) => (r.point.id === point.id ? row : r)))
      show({ point, at: 'reading' })
      const profile = profileOf(job, job.indicators.find((i) => i.id === point.indicatorId)?.profileId ?? '')
      if (!profile?.commands[command]) return show({ point, at: 'never', why: `its profile names no ${command}` })
      show(rowOf(point, await ask('indicator.preview-command', { pointId: point.id, command }), new Date()))
    },
    [ask, command, ids],
  )
  // biome-ignore lint/correctness/useExhaustiveDependencies: as above
  const look = useCallback(async () => {
    const points = job.points.filter((p) => ids.split(',').includes(p.id))
    setRows(points.map((point) => ({ point, at: 'reading' })))
    await Promise.all(points.map(lookAt))
  }, [lookAt, ids])
  useEffect(() => void look(), [look])

  const set = (pointId: string, change: { agreed?: boolean; vented?: boolean }) =>
    setRows((now) => now.map((r) => (r.point.id === pointId && r.at === 'known' ? { ...r, ...change } : r)))
  const ready = rows.flatMap((r) => (r.at === 'known' && isConfirmed(r) ? [r] : []))
  const give = () => {
    const items = ready.map(({ point, taken, vented }) => ({
      key: point.id,
      tag: point.tag,
      lane: job.indicators.find((i) => i.id === point.indicatorId)?.busId ?? '',
      act: async () => {
        const confirmed = { ...(taken.amount === null ? {} : { amount: taken.amount }), ...(vented ? { vented: true as const } : {}) }
        const answer = await ask('indicator.command', { pointId: point.id, command, confirmed })
        const amount = amountText(taken, point, job.decimalSign)
        return answer.ok
          ? ({ state: 'done', says: `${doneWords[command]}${amount === null ? '' : `: ${amount} taken off`}` } as const)
          : ({ state: 'failed', says: explain(answer.failure) } as const)
      },
    }))
    closePanel()
    void runSeveral(`${verbs[command]} ${words}`, items)
  }

  return (
    <Panel
      title={`Zero or tare ${words}`}
      onClose={closePanel}
      beside={<span className="second">Acts on the indicators. {makeAllSafe}</span>}
    >
      <div className="button-row">
        <Button aria-pressed={command === 'zero'} onClick={() => setCommand('zero')}>
          Zero
        </Button>
        <Button aria-pressed={command === 'tare'} onClick={() => setCommand('tare')}>
          Tare
        </Button>
        <Button onClick={() => void look()}>Read again</Button>
        <span className="second">
          {command === 'zero' ? (
            <>
              takes what is on now off the gross value; <span className="attention">cannot be undone here</span>
            </>
          ) : (
            <>
              <Term of="tare">tare</Term>: net starts at nought; gross stays
            </>
          )}
        </span>
      </div>
      <table className="plain-table several-table">
        <thead>
          <tr>
            <th scope="col">Measuring point</th>
            <th scope="col" className="is-right">
              takes off
            </th>
            <th scope="col" className="is-right">
              of maximum
            </th>
            <th scope="col">to be confirmed</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.point.id}>
              <td>
                <b>{row.point.tag}</b> <span className="second">{row.point.name}</span>
              </td>
              <RowCells
                row={row}
                doubtful={doubtful.includes(row.point.id)}
                sign={job.decimalSign}
                onSet={(change) => set(row.point.id, change)}
                onLookAgain={() => void lookAt(row.point)}
              />
            </tr>
          ))}
        </tbody>
      </table>
      <div className="button-row">
        <Button disabled={ready.length === 0} onClick={give}>
          {verbs[command]} {ready.length === 0 || ready.length === scope.ids.length ? words : `${ready.length} of ${words}`}
        </Button>
        {ready.length < rows.length ? (
          <span className="second">{leftText(rows.length - ready.length)}: not confirmed, or it cannot be done</span>
        ) : null}
      </div>
    </Panel>
  )
}

const leftText = (count: number) => (count === 1 ? 'one is left as it is' : `${count} are left as they are`)
const verbs: Record<Command, string> = { zero: 'Zero', tare: 'Tare' }
const doneWords: Record<Command, string> = { zero: 'zeroed', tare: 'tared' }

function RowCells(props: {
  row: Row
  doubtful: boolean
  sign: '.' | ','
  onSet: (change: { agreed?: boolean; vented?: boolean }) => void
  onLookAgain: () => void
}) {
  const { row, doubtful, sign, onSet, onLookAgain } = props
  if (row.at === 'reading')
    return (
      <td colSpan={3} className="second">
        reading…
      </td>
    )
  if (row.at === 'never')
    return (
      <td colSpan={3}>
        <span className="attention">not possible:</span> {row.why}
      </td>
    )
  if (row.at === 'silent')
    return (
      <td colSpan={3}>
        <span className="attention">
          {row.word} at {clockText(row.when)}
        </span>{' '}
        <Button size="compact-sm" onClick={onLookAgain} aria-label={`Look again at ${row.point.tag}`}>
          Look again
        </Button>{' '}
        <span className="second">{row.why}</span>
      </td>
    )
  const { taken } = row
  const amount = amountText(taken, row.point, sign)
  return (
    <>
      <td className="is-right">
        {doubtful && amount !== null ? <ScalingInDoubt /> : null}
        {amount ?? 'unknown'}
      </td>
      <td className="is-right">{taken.percentOfMaximum === null ? 'unknown' : `${numberText(taken.percentOfMaximum, sign)} %`}</td>
      <td>
        {taken.confirm.includes('amount-unknown') ? 'gives no number now; do it at the point itself' : null}
        {taken.confirm.includes('above-limit') ? (
          <Checkbox
            checked={row.agreed}
            onChange={(event) => onSet({ agreed: event.currentTarget.checked })}
            label={`more than ${numberText(taken.limitPercent, sign)} %: ${row.point.tag} shall show ${amount ?? ''} less`}
          />
        ) : null}
        {taken.confirm.includes('vented') ? (
          <Checkbox
            checked={row.vented}
            onChange={(event) => onSet({ vented: event.currentTarget.checked })}
            label={`${row.point.tag} is ${appliedWords(row.point).steps[0]}`}
          />
        ) : null}
        {taken.confirm.length === 0 ? <span className="second">nothing</span> : null}
      </td>
    </>
  )
}
