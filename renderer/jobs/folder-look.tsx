import { Button, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import { useRequest } from '../state/host-context.tsx'
import { Trouble } from './trouble.tsx'

type Seen = { folder: string; parent: string | null; folders: Place[]; jobs: Place[]; bundles: Place[] }
type Place = { name: string; path: string }

/** A job or bundle by its path, typed or found by looking into folders of this computer. */
export function FolderLook({ onOpened }: { onOpened: () => void }) {
  const look = useRequest('folder.look')
  const job = useRequest('job.open')
  const bundle = useRequest('job.open-bundle')
  const [path, setPath] = useState('')
  const [seen, setSeen] = useState<Seen | null>(null)
  const lookInto = async (folder?: string) => {
    const answer = await look.ask(folder === undefined ? {} : { path: folder })
    if (answer.ok) setSeen(answer.value)
  }
  const open = async (from: string) => {
    job.dismiss()
    bundle.dismiss()
    const answer = from.endsWith('.zip') ? await bundle.ask({ path: from }) : await job.ask({ path: from })
    if (answer.ok) onOpened()
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    void open(path.trim())
  }
  return (
    <>
      <form className="path-form" onSubmit={submit}>
        <TextInput
          label="Path of a job (X.job.json) or of a bundle (X.zip)"
          value={path}
          autoComplete="off"
          spellCheck={false}
          onChange={(event) => setPath(event.currentTarget.value)}
        />
        <Button type="submit" loading={job.running || bundle.running} disabled={path.trim() === ''}>
          Open
        </Button>
      </form>
      <Trouble failure={job.failure ?? bundle.failure} />
      {seen ? (
        <div className="folder">
          <span className="second small path">{seen.folder}</span>
          <ul>
            {seen.parent !== null ? <Way name="one folder up" go={() => void lookInto(seen.parent ?? undefined)} /> : null}
            {seen.folders.map((at) => (
              <Way key={at.path} name={`${at.name}/`} go={() => void lookInto(at.path)} />
            ))}
            {[...seen.jobs, ...seen.bundles].map((at) => (
              <Way key={at.path} name={at.name} go={() => void open(at.path)} strong />
            ))}
          </ul>
          {seen.jobs.length + seen.bundles.length === 0 ? <span className="second">No job or bundle in this folder.</span> : null}
        </div>
      ) : (
        <span>
          <Button loading={look.running} onClick={() => void lookInto()}>
            Look into the folder of jobs
          </Button>
        </span>
      )}
      <Trouble failure={look.failure} />
    </>
  )
}

function Way({ name, go, strong = false }: { name: string; go: () => void; strong?: boolean }) {
  return (
    <li>
      <button type="button" className={`plain-link ${strong ? 'strong' : ''}`} onClick={go}>
        {name}
      </button>
    </li>
  )
}
