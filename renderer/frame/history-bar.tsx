import { useHistory } from './history.ts'
import { keyName, keyTable } from './key-table.ts'

/** Undo and redo, each saying what it would do. */
export function HistoryBar() {
  const { undo, redo, go, last } = useHistory()
  return (
    <span className="history">
      {last ? (
        <span role="status" className={last.failed ? 'lost' : 'second'} title={last.text}>
          {last.text}
        </span>
      ) : null}
      {undo !== null ? (
        <button
          type="button"
          className="plain-link"
          title={`Undo: ${undo} (${keyName(keyTable.undo.shown)})`}
          onClick={() => void go('undo')}
        >
          Undo: {undo}
        </button>
      ) : null}
      {redo !== null ? (
        <button
          type="button"
          className="plain-link"
          title={`Redo: ${redo} (${keyName(keyTable.redo.shown)})`}
          onClick={() => void go('redo')}
        >
          Redo: {redo}
        </button>
      ) : null}
    </span>
  )
}
