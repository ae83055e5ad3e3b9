import { Button } from '@mantine/core'
import { useRequest, useTopic } from '../state/host-context.tsx'
import { Trouble } from './trouble.tsx'

const says = { copying: 'Copying the job', packing: 'Packing the bundle', unpacking: 'Unpacking the bundle' }
const mega = (bytes: number) => (bytes / 1_000_000).toFixed(1)

/** A copy of the job that is being made, however it was asked for: how far it is, and the way to end it. */
export function Copying() {
  const running = useTopic('fileWork')?.running
  const cancel = useRequest('job.cancel-copying')
  if (!running) return null
  const { what, done, of } = running
  return (
    <div className="button-row copying">
      <span role="status">
        {says[what]}: {mega(done)} of {mega(of)} MB
      </span>
      <progress aria-label={says[what]} value={done} max={Math.max(of, 1)} />
      <Button loading={cancel.running} onClick={() => void cancel.ask({})}>
        Cancel
      </Button>
      <Trouble failure={cancel.failure} />
    </div>
  )
}
