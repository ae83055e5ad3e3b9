import { Button, Modal } from '@mantine/core'
import { useRef } from 'react'

/** A document of the host in a frame that runs nothing of its own, to be looked at and printed. */
export function SheetDialog({ title, html, onClose }: { title: string; html: string | null; onClose: () => void }) {
  const frame = useRef<HTMLIFrameElement>(null)
  return (
    <Modal opened={html !== null} onClose={onClose} title={title} size="min(960px, 94vw)" closeButtonProps={{ 'aria-label': 'Close' }}>
      <iframe ref={frame} className="sheet-frame" title={title} sandbox="allow-same-origin allow-modals" srcDoc={html ?? ''} />
      <div className="button-row sheet-foot">
        <Button variant="filled" onClick={() => frame.current?.contentWindow?.print()}>
          Print…
        </Button>
        <span className="second">or into a PDF, by the printer that the system offers for it</span>
      </div>
    </Modal>
  )
}
