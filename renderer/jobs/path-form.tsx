import { Button, TextInput } from '@mantine/core'
import { type FormEvent, type ReactNode, useState } from 'react'
import type { Explainable } from '../figures/explain.ts'
import { Trouble } from './trouble.tsx'

/** `next` is what one may want to do with it then. */
type Done = { ok: true; said: string | null; next?: ReactNode } | { ok: false; failure: Explainable }

/** A path typed for one thing that is done with it; what came of it stands below. */
export function PathForm({
  label,
  suggested,
  action,
  run,
}: {
  label: string
  suggested: string
  action: string
  run: (path: string) => Promise<Done>
}) {
  const [typed, setTyped] = useState<string | null>(null)
  const [running, setRunning] = useState(false)
  const [done, setDone] = useState<Done | null>(null)
  const path = (typed ?? suggested).trim()
  const go = async (event: FormEvent) => {
    event.preventDefault()
    setRunning(true)
    setDone(null)
    setDone(await run(path))
    setRunning(false)
  }
  return (
    <form className="path-form" onSubmit={(event) => void go(event)}>
      <TextInput
        label={label}
        value={typed ?? suggested}
        autoComplete="off"
        spellCheck={false}
        onChange={(event) => {
          setTyped(event.currentTarget.value)
          setDone(null)
        }}
      />
      <Button type="submit" loading={running} disabled={path === ''}>
        {action}
      </Button>
      {done?.ok && done.said !== null ? (
        <p role="status">
          {done.said} {done.next}
        </p>
      ) : null}
      <Trouble failure={done?.ok === false ? done.failure : null} />
    </form>
  )
}
