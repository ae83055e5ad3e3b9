import type { KeyboardEvent } from 'react'
import { isBitTable } from '../../app/profile/register-rules.ts'
import { type Candidate, viewRegisters } from '../../app/profile/register-view.ts'
import { type Profile, registerKey } from '../../app/profile/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { wordCount } from '../../app/profile/words.ts'
import { clockText, numberText } from '../figures/number-text.ts'
import { pressed } from '../frame/key-table.ts'
import { useDecimalSign } from '../parts/decimal-sign.ts'
import type { Choice } from './register-viewer.tsx'
import { cellNumber, hexText, orderWords, shapeText, typeWords } from './shape-text.ts'
import type { Seen } from './use-registers.ts'

type Props = {
  seen: Seen
  display: string | undefined
  allOrders: boolean
  profile: Pick<Profile, 'registers' | 'channels'> | undefined
  onChoose: ((choice: Choice) => void) | undefined
  stale: boolean
}

type Group = { order: Candidate['order']; types: readonly Candidate['type'][] }
const narrow = ['u16', 'i16'] as const
const usual: readonly Group[] = [
  { order: 'AB', types: narrow },
  { order: 'ABCD', types: ['i32', 'f32'] },
  { order: 'CDAB', types: ['i32', 'f32'] },
]
const all: readonly Group[] = [
  ...(['AB', 'BA'] as const).map((order) => ({ order, types: narrow })),
  ...(['ABCD', 'CDAB', 'BADC', 'DCBA'] as const).map((order) => ({ order, types: ['u32', 'i32', 'f32'] as const })),
]

/** One row an address: its words, what they are in each type and order, and which of them agree with the display. */
export function RegisterTable({ seen, display, allOrders, profile, onChoose, stale }: Props) {
  const sign = useDecimalSign()
  const { block, words } = seen
  const bits = isBitTable(block.table)
  const groups = bits ? [] : allOrders ? all : usual
  const columns = groups.flatMap(({ order, types }) => types.map((type) => ({ order, type })))
  const byAddress = Map.groupBy(bits ? [] : viewRegisters(block.from, words, display), (c) => c.address)
  const agreeing = [...byAddress].flatMap(([address, here]) => (here.some((c) => c.agrees !== 'no') ? [address] : []))
  const take = (candidate: Candidate) => {
    const others = agreeing.filter((address) => address !== candidate.address)
    onChoose?.({ table: block.table, candidate, words: wordsOf(seen, candidate), display, others })
  }
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: arrow keys move between the buttons inside
    <div className="registers-scroll" onKeyDown={moveByArrows} data-own-keys>
      <table className="plain-table registers-table" aria-label={`Registers from ${block.from}, read ${clockText(new Date(seen.at))}`}>
        <thead>
          <tr>
            <th scope="col" rowSpan={2}>
              Address
            </th>
            {groups.map(({ order, types }) => (
              <th scope="colgroup" key={order} colSpan={types.length} className="bits">
                {orderWords[order]}
              </th>
            ))}
            {display === undefined || bits ? null : (
              <th scope="col" rowSpan={2}>
                Agrees with {numberText(display, sign)}
              </th>
            )}
            <th scope="col" rowSpan={2}>
              {bits ? 'Bit' : 'Raw (hex)'}
            </th>
            {profile ? (
              <th scope="col" rowSpan={2}>
                Named
              </th>
            ) : null}
          </tr>
          <tr>
            {columns.map(({ order, type }) => (
              <th scope="col" key={`${type} ${order}`} className="is-right" title={shapeText({ type, order })}>
                {typeWords[type]}
              </th>
            ))}
          </tr>
        </thead>
        <tbody className={stale ? 'is-stale' : undefined}>
          {words.map((word, i) => {
            const address = block.from + i
            const here = byAddress.get(address) ?? []
            return (
              <tr key={address}>
                <th scope="row">{address}</th>
                {word === null ? (
                  <td colSpan={columns.length + 1 + (display === undefined || bits ? 0 : 1)} className="second">
                    no register
                  </td>
                ) : (
                  <>
                    {columns.map((column, c) => (
                      <Cell
                        key={`${column.type} ${column.order}`}
                        found={cellOf(here, column)}
                        first={i === 0 && c === 0}
                        onTake={onChoose ? take : undefined}
                      />
                    ))}
                    {display === undefined || bits ? null : (
                      <Agreeing found={here.filter((c) => c.agrees !== 'no')} onTake={onChoose ? take : undefined} />
                    )}
                    <td className="hex">{bits ? word : hexText(word)}</td>
                  </>
                )}
                {profile ? <td className="second">{namesAt(profile, block.table, address)}</td> : null}
              </tr>
            )
          })}
        </tbody>
      </table>
    </div>
  )
}

/** What to show of a column: the number of decimals that agrees with the display, or none. */
const cellOf = (here: readonly Candidate[], { type, order }: Pick<Candidate, 'type' | 'order'>) => {
  const own = here.filter((c) => c.type === type && c.order === order)
  return own.find((c) => c.agrees === 'exact') ?? own.find((c) => c.agrees === 'rounded') ?? own[0]
}

const wordsOf = ({ block, words }: Seen, c: Candidate): number[] => {
  const at = c.address - block.from
  return words.slice(at, at + wordCount(c.type)).filter((word) => word !== null)
}

function Cell({ found, first, onTake }: { found: Candidate | undefined; first: boolean; onTake: ((c: Candidate) => void) | undefined }) {
  const sign = useDecimalSign()
  if (!found) return <td />
  const text = found.text === null ? 'no number' : numberText(cellNumber(found.text), sign)
  const look = found.agrees === 'no' ? (found.text === null ? 'second' : undefined) : 'strong'
  return (
    <td className="is-right">
      {onTake && found.text !== null ? (
        <button
          type="button"
          className={`cell ${look ?? ''}`}
          tabIndex={first ? 0 : -1}
          aria-label={`Address ${found.address} as ${shapeText(found)}: ${text}`}
          onClick={() => onTake(found)}
        >
          {text}
        </button>
      ) : (
        <span className={look}>{text}</span>
      )}
    </td>
  )
}

function Agreeing({ found, onTake }: { found: readonly Candidate[]; onTake: ((c: Candidate) => void) | undefined }) {
  return (
    <td className="agrees">
      {found.map((c) =>
        onTake ? (
          <button
            key={shapeText(c)}
            type="button"
            className="plain-link agreeing"
            onClick={() => onTake(c)}
            aria-label={`Address ${c.address} agrees as ${shapeText(c)}`}
          >
            {shapeText(c)}
          </button>
        ) : (
          <span key={shapeText(c)} className="agreeing">
            {shapeText(c)}
          </span>
        ),
      )}
    </td>
  )
}

const namesAt = (profile: Pick<Profile, 'registers' | 'channels'>, table: string, address: number): string =>
  profile.registers
    .filter((r) => r.table === table && r.address === address)
    .map((r) => settingWords(registerKey(r), profile.channels))
    .join(', ')

/** Left, right, up and down between the numbers. */
function moveByArrows(event: KeyboardEvent<HTMLElement>) {
  const step = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0] }[event.key]
  const cell = event.target instanceof HTMLElement ? event.target.closest<HTMLElement>('button.cell') : null
  if (!step || !cell || !pressed(event, 'register')) return
  const rows = [...event.currentTarget.querySelectorAll('tbody tr')].map((row) => [...row.querySelectorAll<HTMLElement>('button.cell')])
  const row = rows.findIndex((cells) => cells.includes(cell))
  const [down = 0, right = 0] = step
  const next = rows[row + down]?.[(rows[row]?.indexOf(cell) ?? 0) + right]
  if (!next) return
  event.preventDefault()
  cell.setAttribute('tabindex', '-1')
  next.setAttribute('tabindex', '0')
  next.focus()
}
