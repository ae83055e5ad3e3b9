import { Button } from '@mantine/core'
import { useCallback, useEffect, useState } from 'react'
import type { RecentJob } from '../../app/contract/job-file-calls.ts'
import { dateText } from '../figures/number-text.ts'
import { useRequest, useTopic } from '../state/host-context.tsx'
import { FolderLook } from './folder-look.tsx'
import { Trouble } from './trouble.tsx'

/** Jobs that were open before, the practice job, and any other by its path. Dropping a file onto the window does the same. */
export function OpenAnother({ onOpened }: { onOpened: () => void }) {
  const here = useTopic('session')?.jobPath
  const practice = useTopic('session')?.practice ?? false
  const recent = useRequest('jobs.recent')
  const forget = useRequest('jobs.forget')
  const openJob = useRequest('job.open')
  const openPractice = useRequest('job.open-practice')
  const [jobs, setJobs] = useState<readonly RecentJob[] | null>(null)
  const { ask } = recent
  const load = useCallback(() => {
    void ask({}).then((answer) => answer.ok && setJobs(answer.value.jobs))
  }, [ask])
  useEffect(load, [load])
  const open = async (path: string) => {
    const answer = await openJob.ask({ path })
    if (answer.ok) onOpened()
  }
  const others = jobs?.filter((job) => job.path !== here)
  return (
    <section className="job-part">
      <h3>Recent jobs</h3>
      {others?.length === 0 ? <p className="second">No other job was open yet. Make one, or open one by its path.</p> : null}
      <ul className="recent-jobs">
        {others?.map((job) => (
          <li key={job.path}>
            {job.state === 'there' ? (
              <button type="button" className="plain-link" disabled={openJob.running} onClick={() => void open(job.path)}>
                {job.name}
              </button>
            ) : (
              <span>{job.name}</span>
            )}
            <span className="second">
              {job.simulated ? 'simulated, ' : ''}
              {job.site ? `${job.site}, ` : ''}
              {dateText(new Date(job.openedAt))}
            </span>
            {job.state === 'missing' ? (
              <span className="attention">
                not there any more{' '}
                <button type="button" className="plain-link" onClick={() => void forget.ask({ path: job.path }).then(load)}>
                  forget it
                </button>
              </span>
            ) : null}
            <span className="second small path">{job.path}</span>
          </li>
        ))}
      </ul>
      <Trouble failure={openJob.failure ?? recent.failure ?? forget.failure} />
      {practice ? null : (
        <span className="button-row">
          <Button
            loading={openPractice.running}
            onClick={() => void openPractice.ask({}).then((answer) => (answer.ok ? onOpened() : undefined))}
          >
            Open the practice job
          </Button>
          <span className="second">simulated indicators, nothing can be damaged</span>
        </span>
      )}
      <Trouble failure={openPractice.failure} />
      <FolderLook onOpened={onOpened} />
    </section>
  )
}
