import { Button, Modal } from '@mantine/core'
import { useRef, useState } from 'react'
import type { Point } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { useRequest } from '../state/host-context.tsx'

/** The sheet to hand over, in a frame that runs nothing of its own. */
export function HandoverSheet({ point }: { point: Point }) {
  const { ask, running, failure } = useRequest('sheet.read')
  const [html, setHtml] = useState<string | null>(null)
  const frame = useRef<HTMLIFrameElement>(null)
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
      {failure ? <p className="lost">{explain(failure)}</p> : null}
      <Modal
        opened={html !== null}
        onClose={() => setHtml(null)}
        title={`Handover sheet of ${point.tag}`}
        size="min(960px, 94vw)"
        closeButtonProps={{ 'aria-label': 'Close' }}
      >
        <iframe
          ref={frame}
          className="sheet-frame"
          title={`Handover sheet of ${point.tag}`}
          sandbox="allow-same-origin allow-modals"
          srcDoc={html ?? ''}
        />
        <div className="button-row sheet-foot">
          <Button variant="filled" onClick={() => frame.current?.contentWindow?.print()}>
            Print…
          </Button>
          <span className="second">or into a PDF, by the printer that the system offers for it</span>
        </div>
      </Modal>
    </div>
  )
}
