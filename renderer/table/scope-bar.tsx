import { Button } from '@mantine/core'
import { type RefObject, useMemo, useSyncExternalStore } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { sentence } from '../../app/sentence.ts'
import { indicatorsOf } from '../several/indicators-of.ts'
import { useSeveralActions } from '../several/several-actions.ts'
import { useHost, useTopic } from '../state/host-context.tsx'
import type { Attention } from './attention.ts'
import { type Below, below, makeRoom, toggleBelow } from './below.ts'
import { BeyondEdges } from './beyond.tsx'
import { chooseNone, type Scope, scopeShort, scopeWords } from './choice.ts'
import type { Order } from './order.ts'

type Props = {
  job: Job
  scope: Scope
  order: Order
  attention: ReadonlyMap<string, Attention>
  list: RefObject<HTMLElement | null>
  trendShown: boolean
}

/** Between table and what is below it: how far actions go, what needs a look, and what can be done for all of the scope. */
export function ScopeBar({ job, scope, order, attention, list, trendShown }: Props) {
  const { readSettings, identify, record, endRecording } = useSeveralActions(job)
  const panel = below.use()
  const stopped = useTopic('session')?.stopped ?? false
  const recorded = useRecorded(scope.ids)
  const words = scopeWords(scope, job)
  const these = scopeShort(scope)
  const onBus = indicatorsOf(job, scope.ids).length
  const why =
    scope.ids.length === 0
      ? 'no point is shown'
      : onBus === 0
        ? 'no indicator is given for these'
        : stopped
          ? 'sending is stopped'
          : undefined
  const barred = why !== undefined
  const hidden = scope.ids.filter((id) => !order.shown.includes(id)).length
  const all = recorded.length === scope.ids.length && recorded.length > 0

  return (
    <div className="scope-bar">
      <b className="scope-words">{sentence(words)}</b>
      {scope.kind === 'chosen' ? (
        <button type="button" className="plain-link" onClick={chooseNone}>
          choose none
        </button>
      ) : null}
      {hidden > 0 ? <span className="attention">{hidden} of them not shown</span> : null}
      <AttentionCount order={order} attention={attention} list={list} several={job.points.length > 1} />
      <span className="spring" />
      <Button disabled={barred} title={why} onClick={() => void readSettings(scope.ids, words)}>
        {these === 'it' ? 'Read its settings' : `Read settings of ${these}`}
      </Button>
      <Button disabled={barred} title={why} onClick={() => void identify(scope.ids, words)}>
        Identify {these}
      </Button>
      <PanelButton of="zero" panel={panel} disabled={barred} title={why}>
        {`Zero or tare ${these}…`}
      </PanelButton>
      {all ? (
        <Button onClick={() => void endRecording(recorded, words)}>Stop recording {these}</Button>
      ) : (
        <Button
          disabled={barred}
          title={why}
          onClick={() =>
            void record(
              scope.ids.filter((id) => !recorded.includes(id)),
              words,
            )
          }
        >
          Record {these}
        </Button>
      )}
      <PanelButton of="edit" panel={panel} disabled={scope.ids.length === 0}>
        {`Edit ${these}…`}
      </PanelButton>
      <span className="bar-rule" aria-hidden="true" />
      <Button
        aria-pressed={trendShown}
        onClick={() => {
          if (!trendShown) makeRoom()
          below.set(trendShown ? 'nothing' : 'trend')
        }}
      >
        Trend
      </Button>
      <PanelButton of="buses" panel={panel}>
        Buses
      </PanelButton>
      <PanelButton of="add" panel={panel}>
        Add…
      </PanelButton>
    </div>
  )
}

function PanelButton({
  of,
  panel,
  disabled = false,
  title,
  children,
}: {
  of: Exclude<Below, null>
  panel: Below
  disabled?: boolean
  title?: string | undefined
  children: string
}) {
  return (
    <Button aria-pressed={panel === of} disabled={disabled && panel !== of} title={title} onClick={() => toggleBelow(of)}>
      {children}
    </Button>
  )
}

/** One point alone is first already. */
function AttentionCount({ order, attention, list, several }: Pick<Props, 'order' | 'attention' | 'list'> & { several: boolean }) {
  const since = order.changedSince(useMemo(() => new Set(attention.keys()), [attention]))
  if (attention.size === 0 && !order.onlyAttention && !order.sorted('attention'))
    return <span className="second">none needs attention</span>
  return (
    <span className="attention-count">
      <span className={attention.size > 0 ? 'attention' : 'second'}>
        {attention.size} {attention.size === 1 ? 'needs' : 'need'} attention
      </span>
      <BeyondEdges list={list} attention={attention} />
      {several ? (
        <>
          <Button size="compact-sm" aria-pressed={order.sorted('attention') !== false} onClick={() => order.sortBy('attention')}>
            First
          </Button>
          <Button size="compact-sm" aria-pressed={order.onlyAttention} onClick={() => order.setOnlyAttention(!order.onlyAttention)}>
            Only
          </Button>
        </>
      ) : null}
      {since > 0 ? (
        <button type="button" className="plain-link" onClick={order.askAgain} title={`${since} changed since`}>
          Order again
        </button>
      ) : null}
    </span>
  )
}

function useRecorded(ids: readonly string[]): readonly string[] {
  const { store } = useHost()
  const recording = () => ids.filter((id) => store.topic('recording', id)?.state === 'recording').join()
  const now = useSyncExternalStore(store.subscribe, recording)
  return now === '' ? [] : now.split(',')
}
