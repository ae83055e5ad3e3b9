import type { Job } from '../../app/job/schema.ts'
import { BenchPanel } from '../bench/bench-panel.tsx'
import { JobPanel } from '../jobs/job-panel.tsx'
import { FirstSteps, FirstStepsOffer } from './first-steps.tsx'
import { closeSidePanel, sidePanel } from './side-panel.ts'

export function SidePanelView({ job }: { job: Job }) {
  const panel = sidePanel.use()
  switch (panel) {
    case 'job':
      return <JobPanel job={job} onClose={closeSidePanel} />
    case 'bench':
      return job.simulated ? <BenchPanel job={job} onClose={closeSidePanel} /> : null
    case 'first-steps':
      return <FirstSteps job={job} onClose={closeSidePanel} />
    case null:
      return <FirstStepsOffer />
  }
}
