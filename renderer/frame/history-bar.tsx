import { lastStep, useHistory } from './history.ts'

/** Undo and redo, each saying what it would do. */
export function HistoryBar() {
  const { undo, redo, go } = useHistory()
  const last = lastStep.use()
  return (
    <span className="history">
      {last ? (
        <span role="status" className={last.failed ? 'lost' : 'second'} title={last.text}>
          {last.text}
        </span>
      ) : null}
      {undo !== null ? (
        <button type="button" className="plain-link" title={`Undo: ${undo} (Ctrl Z)`} onClick={() => void go('undo')}>
          Undo: {undo}
        </button>
      ) : null}
      {redo !== null ? (
        <button type="button" className="plain-link" title={`Redo: ${redo} (Ctrl Shift Z)`} onClick={() => void go('redo')}>
          Redo: {redo}
        </button>
      ) : null}
    </span>
  )
}
