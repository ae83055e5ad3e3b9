import { Button } from '@mantine/core'
import { useState } from 'react'
import type { Point } from '../../app/job/schema.ts'
import { Failed } from '../parts/failed.tsx'
import { SheetDialog } from '../parts/sheet-dialog.tsx'
import { useRequest } from '../state/host-context.tsx'

/** The sheet to hand over, in a frame that runs nothing of its own. */
export function HandoverSheet({ point }: { point: Point }) {
  const { ask, running, failure } = useRequest('sheet.read')
  const [html, setHtml] = useState<string | null>(null)
  const show = async () => {
    const answer = await ask({ pointId: point.id })
    if (answer.ok) setHtml(answer.value.html)
  }
  return (
    <div className="group">
      <h2>Handover</h2>
      <div className="button-row">
        <Button loading={running} onClick={() => void show()}>
          Open the handover sheet
        </Button>
        <span className="second">settings as found and as left, checks, what was typed</span>
      </div>
      <Failed of={failure} />
      <SheetDialog title={`Handover sheet of ${point.tag}`} html={html} onClose={() => setHtml(null)} />
    </div>
  )
}
