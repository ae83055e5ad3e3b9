import { Button } from '@mantine/core'
import { Failed } from '../parts/failed.tsx'
import { useRequest, useTopic } from '../state/host-context.tsx'
import type { PointView } from '../state/point-view.ts'

/** Keeps every sample of the point in a file beside the job, until it is ended. */
export function Record({ view }: { view: PointView }) {
  const { point } = view
  const recording = useTopic('recording', point.id)
  const start = useRequest('record.start')
  const stop = useRequest('record.stop')
  const runs = recording?.state === 'recording'
  const failure = start.failure ?? stop.failure
  const request = { pointIds: [point.id] }
  return (
    <section className="commands" aria-label="Recording">
      <h2>Keeps on this computer</h2>
      <div className="command">
        <Button loading={start.running || stop.running} onClick={() => void (runs ? stop.ask(request) : start.ask(request))}>
          {runs ? 'End recording' : 'Record'}
        </Button>
        <span className={recording?.state === 'failed' ? 'lost' : 'second'} role="status">
          {runs
            ? `recording, ${recording.rows} samples in ${recording.file}`
            : recording?.state === 'ended'
              ? `ended with ${recording.rows} samples in ${recording.file}`
              : recording?.state === 'failed'
                ? `ended early: ${recording.why ?? 'no reason known'} (${recording.file})`
                : 'keeps every sample in a file beside the job'}
        </span>
      </div>
      <Failed of={failure} />
    </section>
  )
}
