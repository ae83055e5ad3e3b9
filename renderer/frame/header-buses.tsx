import { useMemo, useSyncExternalStore } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { fixedText } from '../figures/number-text.ts'
import { Shape } from '../parts/quantity.tsx'
import { useHost, useTopic } from '../state/host-context.tsx'
import { open, useView } from '../state/navigation.ts'
import { openBelow } from '../table/below.ts'
import { type BusesTold, busesTold } from './buses-told.ts'

/** The buses in the line at the top: what is not right first and whole, as a link to the buses; the others as far as there is room. */
export function HeaderBuses({ job }: { job: Job }) {
  const { store } = useHost()
  const stopped = useTopic('session')?.stopped ?? false
  const { place } = useView()
  // Told anew with every change, as text: a new object each time would never settle.
  const text = useSyncExternalStore(store.subscribe, () =>
    JSON.stringify(
      busesTold(
        job.buses.map(({ id, name }) => ({ id, name, view: store.topic('bus', id) })),
        stopped,
      ),
    ),
  )
  const { wrong, right } = useMemo((): BusesTold => JSON.parse(text), [text])
  const showBuses = () => {
    open({ pointId: null, place })
    openBelow('buses')
  }
  return (
    <span className="buses">
      {wrong ? (
        <button
          type="button"
          className={`header-button bus-state is-wrong ${wrong.tone}`}
          title={`${wrong.whole} (to the buses)`}
          onClick={showBuses}
        >
          {wrong.tone === 'lost' ? <Shape kind="square" /> : null}
          {wrong.name} {wrong.says}
        </button>
      ) : null}
      {'count' in right ? (
        <span className="bus-state">
          <b>{right.count} buses</b> <span className="second">{right.answering} answering</span>
        </span>
      ) : (
        right.map((id) => <BusState key={id} busId={id} name={job.buses.find((b) => b.id === id)?.name ?? ''} />)
      )}
    </span>
  )
}

function BusState({ busId, name }: { busId: string; name: string }) {
  const state = useTopic('bus', busId)
  const { decimalSign } = useTopic('job') ?? { decimalSign: '.' as const }
  if (!state) return <span className="bus-state second">{name}</span>
  return (
    <span className="bus-state">
      <span className="bus-name">
        <b>{name}</b> <span className="second">{state.answering} answering</span>
      </span>
      {state.readingsPerSecond === undefined ? null : (
        <span className="second bus-rate" title="readings per second, measured">
          , {fixedText(state.readingsPerSecond, 1, decimalSign)}
          <span className="where-wide"> readings</span>/s{state.answering > 1 ? ' each' : ''}
        </span>
      )}
    </span>
  )
}
