import { Button } from '@mantine/core'
import { useState } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { Failed } from '../parts/failed.tsx'
import { saveFile } from '../parts/save-file.ts'
import { useRequest } from '../state/host-context.tsx'
import type { Described } from './described.ts'
import { explainUnfit, placeIn, problemPlace } from './problem-text.ts'
import { UseIt } from './use-it.tsx'

/** What is still missing or wrong; saving; and what can be done with the saved profile. */
export function SaveProfile({ described, job }: { described: Described; job: Job }) {
  const { id: descriptionId, revision, savedRevision, problems, draft } = described
  const save = useRequest('description.save')
  const share = useRequest('profile.export')
  const [path, setPath] = useState<string | null>(null)
  const isSaved = savedRevision === revision
  const exportFile = async () => {
    const answer = await share.ask({ profileId: draft.id })
    if (answer.ok) saveFile(answer.value.file, new Blob([answer.value.text], { type: 'application/json' }))
  }
  return (
    <section className="group save-profile" aria-label="Check and save">
      <h2>{isSaved ? 'Saved' : problems.length === 0 ? 'Nothing is missing' : `Still missing or wrong: ${problems.length}`}</h2>
      {problems.length > 0 ? (
        <ul className="problems">
          {problems.slice(0, 12).map((p) => (
            <li key={`${p.path} ${p.message}`}>
              <b>{problemPlace(p.path, draft)}</b> {p.message}
            </li>
          ))}
        </ul>
      ) : null}
      <div className="button-row">
        <Button
          variant={isSaved ? 'default' : 'filled'}
          disabled={problems.length > 0 || isSaved}
          loading={save.running}
          onClick={async () => {
            const answer = await save.ask({ descriptionId, revision })
            if (answer.ok) setPath(answer.value.path)
          }}
        >
          {savedRevision === undefined ? 'Save the profile' : 'Save the changes'}
        </Button>
        {savedRevision === undefined ? null : (
          <Button loading={share.running} onClick={() => void exportFile()}>
            Export as a file
          </Button>
        )}
      </div>
      {savedRevision !== undefined && !isSaved ? (
        <p className="attention">Changed since it was saved; indicators of this job still go by the saved one.</p>
      ) : null}
      {path ? <p className="second small path">In the job, and as {path}</p> : null}
      {save.failure ? <p className="lost">{explainUnfit(save.failure, placeIn(draft))}</p> : null}
      <Failed of={share.failure} />
      {isSaved ? <UseIt described={described} job={job} /> : null}
    </section>
  )
}
