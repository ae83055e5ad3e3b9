import { Button } from '@mantine/core'
import { useEffect, useState } from 'react'
import type { JobVersion } from '../../app/contract/job-file-calls.ts'
import { clockText, dateText } from '../figures/number-text.ts'
import { useRequest } from '../state/host-context.tsx'
import { Trouble } from './trouble.tsx'

const shownAtFirst = 6

/** Earlier states of the open job; bringing one back keeps the present one as a version, and can be undone. */
export function Versions({ revision }: { revision: number }) {
  const { ask, failure } = useRequest('job.versions')
  const back = useRequest('job.bring-back')
  const [versions, setVersions] = useState<readonly JobVersion[] | null>(null)
  const [all, setAll] = useState(false)
  const [broughtBack, setBroughtBack] = useState<string | null>(null)
  useEffect(() => {
    void revision
    void ask({}).then((answer) => answer.ok && setVersions(answer.value.versions))
  }, [ask, revision])
  const shown = all ? versions : versions?.slice(0, shownAtFirst)
  return (
    <section className="job-part">
      <h3>Earlier versions</h3>
      {versions?.length === 0 ? <p className="second">None yet: one is kept before the first change of a sitting.</p> : null}
      {broughtBack ? <p role="status">{broughtBack} Undo takes it back.</p> : null}
      <ul className="versions">
        {shown?.map((version) => {
          const when = whenText(version)
          return (
            <li key={version.version}>
              <b>{when}</b>
              <span className={`version-what ${version.why === undefined ? 'second' : 'lost'}`}>
                {version.why ?? `otherwise now: ${(version.changes ?? '').replace(/^Nothing$/, 'nothing')}`}
              </span>
              {version.why === undefined && version.changes !== 'Nothing' ? (
                <Button
                  loading={back.running}
                  aria-label={`Bring back the version of ${when}`}
                  onClick={() =>
                    void back
                      .ask({ revision, version: version.version })
                      .then((answer) => answer.ok && setBroughtBack(`The version of ${when} is back.`))
                  }
                >
                  Bring back
                </Button>
              ) : null}
            </li>
          )
        })}
      </ul>
      {versions && versions.length > shownAtFirst && !all ? (
        <button type="button" className="plain-link" onClick={() => setAll(true)}>
          all {versions.length}
        </button>
      ) : null}
      <Trouble failure={back.failure ?? failure} />
    </section>
  )
}

/** Of the older ones one an hour is left, named by the hour alone. */
const namedByHour = /^\d{10}$/

function whenText({ version, keptAt }: JobVersion): string {
  const at = new Date(keptAt)
  return namedByHour.test(version) ? `${dateText(at)}, hour from ${clockText(at).slice(0, 5)}` : `${dateText(at)} ${clockText(at)}`
}
