import type { Job } from '../../app/job/schema.ts'
import { Panel } from '../parts/panel.tsx'
import { useTopic } from '../state/host-context.tsx'
import { BenchLine } from './bench-line.tsx'
import { BenchPoint } from './bench-point.tsx'
import { useBenchLook } from './use-bench-look.ts'

/** The simulated machine as somebody beside it would handle it: loads, cables, power, and another master. */
export function BenchPanel({ job, onClose }: { job: Job; onClose: () => void }) {
  const bench = useTopic('practice')
  const seen = useBenchLook()
  const points = job.points.filter((p) => p.indicatorId !== undefined && bench?.indicators[p.indicatorId])
  return (
    <Panel
      title="Practice bench"
      beside={
        <span className="second">
          <span className="simulated">simulated</span>; all of this acts on the simulated machine, nothing here reaches a real one
        </span>
      }
      onClose={onClose}
      className="side-panel"
    >
      {bench ? (
        <div className="bench">
          <section aria-label="Loads on the bench">
            <h3>Loads</h3>
            {points.length === 0 ? <p className="second">No point of this job has an indicator on the bench.</p> : null}
            <ul className="bench-points">
              {points.map((point) => (
                <BenchPoint key={point.id} point={point} now={bench.loads[point.id]} />
              ))}
            </ul>
          </section>
          <section aria-label="Lines of the bench">
            <h3>Lines and power</h3>
            {job.buses.map((bus) => (
              <BenchLine key={bus.id} job={job} bus={bus} bench={bench} seen={seen.filter((s) => s.busId === bus.id)} />
            ))}
          </section>
        </div>
      ) : (
        <p className="second">The practice bench is not running.</p>
      )}
    </Panel>
  )
}
