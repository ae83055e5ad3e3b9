import { Button } from '@mantine/core'
import { useState } from 'react'
import type { Point } from '../../../app/job/schema.ts'
import { Failed } from '../../parts/failed.tsx'
import { SheetDialog } from '../../parts/sheet-dialog.tsx'
import { useRequest } from '../../state/host-context.tsx'

/** What to type at the front panel, as a sheet to print and take to the machine. */
export function EntrySheet({ point }: { point: Point }) {
  const { ask, running, failure } = useRequest('entry-sheet.read')
  const [html, setHtml] = useState<string | null>(null)
  const show = async () => {
    const answer = await ask({ pointIds: [point.id] })
    if (answer.ok) setHtml(answer.value.html)
  }
  return (
    <>
      <Button loading={running} onClick={() => void show()}>
        Entry sheet…
      </Button>
      <Failed of={failure} />
      <SheetDialog title={`Entry sheet of ${point.tag}`} html={html} onClose={() => setHtml(null)} />
    </>
  )
}
