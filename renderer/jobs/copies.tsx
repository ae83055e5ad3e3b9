import { Button } from '@mantine/core'
import type { Job } from '../../app/job/schema.ts'
import { useAsking, useRequest, useTopic } from '../state/host-context.tsx'
import { sharedState } from '../state/shared-state.ts'
import { Copying } from './copying.tsx'
import { PathForm } from './path-form.tsx'
import { fileNameFor, folderOf } from './path-text.ts'
import { Trouble } from './trouble.tsx'

/** The copy that one went on with: said when it is open, where all that was on screen for the former job is gone. */
const wentOnWith = sharedState<string | null>(null)

/** Copies of the open job: to go on with, to begin another job from, to hand on. */
export function Copies({ job }: { job: Job }) {
  const ask = useAsking()
  const jobPath = useTopic('session')?.jobPath ?? ''
  const stem = jobPath.replace(/\.job\.json$/, '')
  const wentOn = wentOnWith.use()
  const day = new Date().toLocaleDateString('sv')
  return (
    <section className="job-part">
      <h3>Copies</h3>
      <Copying />
      <PathForm
        key={`save ${stem}`}
        label="Save all of it under another name, and go on with the copy"
        suggested={`${stem}-copy`}
        action="Save as"
        run={async (path) => {
          const answer = await ask('job.save-as', { path })
          if (!answer.ok) return answer
          wentOnWith.set(answer.value.path)
          return { ok: true, said: null }
        }}
      />
      {wentOn !== null && wentOn === jobPath ? (
        <p role="status">This is the copy, {jobPath}. The job it was made from stays as it was.</p>
      ) : null}
      <PathForm
        key={`next ${stem}`}
        label="New job after this one: points and certificates, no visits, measured values or seals"
        suggested={`${folderOf(stem)}${fileNameFor(job.name)}-next`}
        action="Duplicate"
        run={async (path) => {
          const answer = await ask('job.duplicate', { path, name: `${job.name}, next`.slice(0, 80) })
          if (!answer.ok) return answer
          return { ok: true, said: `Made: ${answer.value.path}. It is not open; this job is.`, next: <OpenMade path={answer.value.path} /> }
        }}
      />
      <PathForm
        key={`bundle ${stem}`}
        label="One file with everything, to hand on"
        suggested={`${stem}-${day}.zip`}
        action="Make a bundle"
        run={async (to) => {
          const answer = await ask('job.bundle', { to })
          if (!answer.ok) return answer
          const { path, files, bytes } = answer.value
          return { ok: true, said: `Made: ${path}, ${files} files, ${Math.ceil(bytes / 1000)} kB.` }
        }}
      />
    </section>
  )
}

function OpenMade({ path }: { path: string }) {
  const { ask, running, failure } = useRequest('job.open')
  return (
    <>
      <Button loading={running} onClick={() => void ask({ path })}>
        Open it
      </Button>
      <Trouble failure={failure} />
    </>
  )
}
