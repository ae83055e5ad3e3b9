import { Modal } from '@mantine/core'

const keys: readonly (readonly [string, string])[] = [
  ['Shift Esc', 'stop sending on every bus'],
  ['Esc', 'back to all points, or close what is open'],
  ['← →', 'another place of the same point'],
  ['↑ ↓', 'another point, same place'],
  ['Enter', 'open the cell in the table'],
  ['Space', 'choose the point in the table, or not'],
  ['Shift ↑ ↓', 'choose several'],
  ['Ctrl A', 'choose all that are shown'],
  ['/ or Ctrl K', 'find a point'],
  ['D', 'readings large enough to be read from afar'],
]

/** Keys move and open; none alters an indicator. */
export function KeysHelp({ opened, onClose }: { opened: boolean; onClose: () => void }) {
  return (
    <Modal opened={opened} onClose={onClose} title="Keys" size={420} closeButtonProps={{ 'aria-label': 'Close' }}>
      <dl className="facts">
        {keys.map(([key, does]) => (
          <div key={key}>
            <dt>{key}</dt>
            <dd>{does}</dd>
          </div>
        ))}
      </dl>
      <p className="second small">No key alters an indicator.</p>
    </Modal>
  )
}
