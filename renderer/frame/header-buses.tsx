import { useMemo, useSyncExternalStore } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { fixedText } from '../figures/number-text.ts'
import { Shape } from '../parts/quantity.tsx'
import { useConnection, useHost, useTopic } from '../state/host-context.tsx'
import { open, useView } from '../state/navigation.ts'
import { openBelow } from '../table/below.ts'
import { type BusTold, busesTold } from './buses-told.ts'

const unheard = (says: string): BusTold => ({ kind: 'wrong', tone: 'lost', name: 'Host', says, whole: 'What the buses do is not known' })
const ofHost: Partial<Record<string, BusTold>> = { lost: unheard('not reached'), silent: unheard('silent') }

/** The buses in the line at the top: what is not right whole, as a link to the buses; the others as far as there is room. */
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
  const { connection } = useConnection()
  const told = useMemo((): BusTold[] => {
    const host = ofHost[connection]
    return host ? [host] : JSON.parse(text)
  }, [text, connection])
  const showBuses = () => {
    open({ pointId: null, place })
    openBelow('buses')
  }
  return (
    <span className="buses">
      {told.map((bus) => (
        <Told key={bus.kind === 'right' ? bus.id : bus.kind} told={bus} job={job} onShow={showBuses} />
      ))}
    </span>
  )
}

function Told({ told, job, onShow }: { told: BusTold; job: Job; onShow: () => void }) {
  switch (told.kind) {
    case 'wrong':
      return (
        <button
          type="button"
          className={`header-button bus-state is-wrong ${told.tone}`}
          title={`${told.whole} (to the buses)`}
          onClick={onShow}
        >
          {told.tone === 'lost' ? <Shape kind="square" /> : null}
          {told.name} {told.says}
        </button>
      )
    case 'right':
      return <BusState busId={told.id} name={job.buses.find((b) => b.id === told.id)?.name ?? ''} />
    case 'many':
      return (
        <span className="bus-state">
          <b>{told.count} buses</b> <span className="second">{told.answering} answering</span>
        </span>
      )
  }
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
