import { Button } from '@mantine/core'
import { useEffect } from 'react'
import { Notice } from '../frame/notice.tsx'
import { drop, useDroppedFile } from './dropped-files.ts'

const hasFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false

/** Takes a file that is dropped anywhere onto the window, and says below the header what becomes of it. */
export function DropNotice() {
  const now = drop.use()
  const { take, replaceProfile, cancel } = useDroppedFile()
  useEffect(() => {
    const onOver = (event: DragEvent) => {
      if (!hasFiles(event)) return
      event.preventDefault()
      if (drop.get()?.kind !== 'over' && drop.get()?.kind !== 'running') drop.set({ kind: 'over' })
    }
    const onLeave = (event: DragEvent) => {
      if (event.relatedTarget === null && drop.get()?.kind === 'over') drop.set(null)
    }
    const onDrop = (event: DragEvent) => {
      if (!hasFiles(event)) return
      event.preventDefault()
      if (drop.get()?.kind === 'running') return
      const files = [...(event.dataTransfer?.files ?? [])]
      const [file] = files
      if (file && files.length === 1) void take(file)
      else drop.set({ kind: 'failed', text: 'Drop one file at a time: a bundle, a job or a profile.' })
    }
    window.addEventListener('dragover', onOver)
    window.addEventListener('dragleave', onLeave)
    window.addEventListener('drop', onDrop)
    return () => {
      window.removeEventListener('dragover', onOver)
      window.removeEventListener('dragleave', onLeave)
      window.removeEventListener('drop', onDrop)
    }
  }, [take])
  if (now === null) return null
  return (
    <Notice tone={now.kind === 'failed' ? 'lost' : now.kind === 'replace' ? 'attention' : 'plain'}>
      {now.kind === 'over' ? (
        <span>Drop a bundle (X.zip) or a job (X.job.json) to open it, a profile (X.profile.json) to take it into this job.</span>
      ) : null}
      {now.kind === 'running' ? (
        <>
          <span role="status">
            Taking {now.name}, {now.percent} %
          </span>
          <Button onClick={cancel}>Give it up</Button>
        </>
      ) : null}
      {now.kind === 'replace' ? (
        <>
          <span>{now.why}</span>
          <Button onClick={() => replaceProfile(now.name, now.text)}>Replace the profile</Button>
        </>
      ) : null}
      {now.kind === 'done' ? <span role="status">{now.text}</span> : null}
      {now.kind === 'failed' ? <span role="alert">{now.text}</span> : null}
      {now.kind === 'done' || now.kind === 'failed' || now.kind === 'replace' ? (
        <Button onClick={() => drop.set(null)}>Dismiss</Button>
      ) : null}
    </Notice>
  )
}
