import { useHistory } from './history.ts'
import { keyName, keyTable } from './key-table.ts'

/** Undo and redo, each saying what it would do where there is room for all of that. */
export function HistoryBar() {
  const { undo, redo, go } = useHistory()
  return (
    <span className="history">
      {undo !== null ? <Step way="undo" label={undo} onMake={() => void go('undo')} /> : null}
      {redo !== null ? <Step way="redo" label={redo} onMake={() => void go('redo')} /> : null}
    </span>
  )
}

function Step({ way, label, onMake }: { way: 'undo' | 'redo'; label: string; onMake: () => void }) {
  const name = way === 'undo' ? 'Undo' : 'Redo'
  return (
    <button
      type="button"
      className="plain-link history-step"
      title={`${name}: ${label} (${keyName(keyTable[way].shown)})`}
      onClick={onMake}
    >
      {name}
      <wbr />
      <span className="nowrap">: {label}</span>
    </button>
  )
}

/** What the last undo or redo did, until something else is edited. */
export function StepMade() {
  const { last } = useHistory()
  if (!last) return null
  return (
    <p role="status" className={`step-made ${last.failed ? 'lost' : 'second'}`}>
      {last.text}
    </p>
  )
}
