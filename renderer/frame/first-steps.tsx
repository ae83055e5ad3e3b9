import { Button } from '@mantine/core'
import type { Job } from '../../app/job/schema.ts'
import { Panel } from '../parts/panel.tsx'
import { type PlaceId, placeIds, placeNames } from '../places/place-ids.ts'
import { useTopic } from '../state/host-context.tsx'
import { open, useView } from '../state/navigation.ts'
import { sharedState } from '../state/shared-state.ts'
import { Notice } from './notice.tsx'
import { sidePanel } from './side-panel.ts'

const kept = 'first-steps-dismissed'
const dismissed = sharedState(typeof localStorage !== 'undefined' && localStorage.getItem(kept) === 'yes')

function dismiss(): void {
  localStorage.setItem(kept, 'yes')
  dismissed.set(true)
}

export const isOffered = (pointId: string | null, stopped: boolean) => pointId === null && !stopped

/** One line for whoever is here for the first time; on the table only, and not while more urgent lines stand there. */
export function FirstStepsOffer() {
  const no = dismissed.use()
  const { pointId } = useView()
  const stopped = useTopic('session')?.stopped ?? false
  if (no || !isOffered(pointId, stopped)) return null
  return (
    <Notice tone="plain">
      <span>New here? A measuring point is brought into service along its chain, from the load to the checked value.</span>
      <span className="button-row">
        <Button onClick={() => sidePanel.set('first-steps')}>First steps</Button>
        <Button onClick={dismiss}>Not needed</Button>
      </span>
    </Notice>
  )
}

const first: Record<PlaceId, string> = {
  load: 'Say the maximum load and the scale interval, what stands on the sensors besides the load, and the gravity here.',
  sensors: "Type what each sensor's certificate states: capacity, rated output, resistances.",
  wiring: "Lay the leads to the indicator's terminals. Power off and leads lifted before any ohm is measured.",
  input: 'Choose input range, excitation and filter so that the largest signal has room.',
  scaling: 'Take the zero with nothing on, and put the scaling values into what is intended.',
  settings: 'Read what the indicator holds, compare, then review and write. The way back is kept.',
  reading: 'See the reading live, steady and without surprises; zero it if it is not.',
  check: 'Put known loads on, take each steady reading, and hand the sheet over.',
}

/** What to do first, in the order of the signal. */
export function FirstSteps({ job, onClose }: { job: Job; onClose: () => void }) {
  const view = useView()
  const point = job.points.find((p) => p.id === view.pointId) ?? job.points[0]
  return (
    <Panel
      title="First steps"
      beside={<span className="second">{point ? `the places of ${point.tag}, in the order of the signal` : 'the eight places'}</span>}
      onClose={onClose}
      className="side-panel"
    >
      <p>
        Say who is at the machine, then go along the chain. Nothing reaches an indicator before <b>Review and write</b> at the foot.
        {job.simulated ? ' Here everything is simulated: put loads on and pull cables at the practice bench.' : ''}
      </p>
      <ol className="first-steps">
        {placeIds.map((id) => (
          <li key={id}>
            {point ? (
              <button type="button" className="plain-link" onClick={() => open({ pointId: point.id, place: id })}>
                {placeNames[id]}
              </button>
            ) : (
              <b>{placeNames[id]}</b>
            )}
            <span>{first[id]}</span>
          </li>
        ))}
      </ol>
      <span className="button-row">
        {job.simulated ? <Button onClick={() => sidePanel.set('bench')}>Open the practice bench</Button> : null}
        <Button
          onClick={() => {
            dismiss()
            onClose()
          }}
        >
          Do not offer this again
        </Button>
      </span>
    </Panel>
  )
}
