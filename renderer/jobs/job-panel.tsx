import type { Job } from '../../app/job/schema.ts'
import { Panel } from '../parts/panel.tsx'
import { useTopic } from '../state/host-context.tsx'
import { Copies } from './copies.tsx'
import { JobFields } from './job-fields.tsx'
import { NewJob } from './new-job.tsx'
import { OpenAnother } from './open-another.tsx'
import { Versions } from './versions.tsx'

/** Jobs as files: the one that is open and its earlier versions, others, and a new one. */
export function JobPanel({ job, onClose }: { job: Job; onClose: () => void }) {
  const session = useTopic('session')
  return (
    <Panel
      title={job.name}
      beside={
        <span className="second path" title={session?.jobPath}>
          {session?.jobPath}; saved by itself after each change
        </span>
      }
      onClose={onClose}
      className="side-panel job-panel"
    >
      <div className="job-columns">
        <div>
          <OpenAnother onOpened={onClose} />
        </div>
        <div>
          <NewJob onOpened={onClose} />
        </div>
        <div>
          <JobFields job={job} />
          <Copies job={job} />
          <Versions revision={job.revision} />
        </div>
      </div>
    </Panel>
  )
}
