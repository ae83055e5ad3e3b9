import { Modal } from '@mantine/core'
import { type KeyRow, keyName, keyTable } from './key-table.ts'

const rows: readonly KeyRow[] = Object.values(keyTable)
const wheres = [...new Set(rows.map((row) => row.where))]

/** What keys do, from the table that they are obeyed by. */
export function KeysHelp({ opened, onClose, onFirstSteps }: { opened: boolean; onClose: () => void; onFirstSteps: () => void }) {
  return (
    <Modal opened={opened} onClose={onClose} title="Keys" size="min(1060px, 94vw)" closeButtonProps={{ 'aria-label': 'Close' }}>
      <div className="keys-sheet">
        {wheres.map((where) => (
          <section key={where}>
            <h3>{where}</h3>
            <dl className="facts">
              {rows
                .filter((row) => row.where === where)
                .map(({ shown, does }) => (
                  <div key={shown}>
                    <dt>{keyName(shown)}</dt>
                    <dd>{does}</dd>
                  </div>
                ))}
            </dl>
          </section>
        ))}
      </div>
      <p className="second small keys-foot">
        No key alters an indicator. Tab goes from part to part, Enter puts in what was typed, Esc takes it out again.{' '}
        <button type="button" className="plain-link" onClick={onFirstSteps}>
          First steps
        </button>
      </p>
    </Modal>
  )
}
