import type { Job } from '../../app/job/schema.ts'
import type { Result } from '../../app/result.ts'
import type { JobProblem } from '../files/job-store.ts'
import type { RecentJobs } from '../files/recent-jobs.ts'

/** The way from one job to another, as a host of one job sees it: behind it stands what serves the jobs one after another. */
export type JobDoor = {
  /** Puts the job at `path` in the place of the one that is open. Where it cannot be opened, the present one stays as it is. */
  open(path: string): Promise<Result<Job, JobProblem>>
  /** Where a job without a folder goes. */
  folder: string
  /** The practice job, made where there is none; its path. */
  practice(): Result<string, JobProblem>
  /** Null where no list is kept. */
  recent: RecentJobs | null
}
