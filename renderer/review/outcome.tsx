import type { Difference, ParameterOutcome, WriteFailure } from '../../app/contract/views.ts'
import { explainWriteCause } from '../../app/contract/write-cause.ts'
import { placeText } from '../../app/profile/bus-registers.ts'
import { keptWords, unsavedWords } from '../../app/profile/kept.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { Shape } from '../parts/quantity.tsx'
import { useSettingText } from '../parts/setting-text.ts'
import { ReadingsAcrossTable } from './readings-across-table.tsx'
import { settingsCount, stepWords } from './step-words.ts'
import type { WriteResult } from './use-reviews.ts'

/** How a write ended, per parameter where it did not end well. */
export function Outcome({
  name,
  result,
  channels,
  short = false,
}: {
  name: string
  result: WriteResult
  /** Of the indicator. */
  channels: number
  short?: boolean
}) {
  const plain = useSettingText()
  if ('unreached' in result)
    return (
      <span className="lost">
        {name}: {result.unreached}
      </span>
    )
  if (result.ok) {
    const { written, alsoMoved, unsaved, moved } = result.receipt
    return (
      <div>
        <p>
          <b>
            {name}: {settingsCount(written.length)} written, read back equal, {keptWords(result.receipt)}.
          </b>{' '}
          {alsoMoved.length === 0 ? 'No other setting changed.' : ''}
          {moved
            ? moved.when === 'now'
              ? ` It answers at ${placeText(moved.to)} now.`
              : ` Switch it off and on: it is at ${placeText(moved.to)} then, and still at ${placeText(moved.from)} now.`
            : ''}
        </p>
        {unsaved.length > 0 ? <p className="attention">{unsavedWords(unsaved, channels, 'after')}</p> : null}
        {alsoMoved.length > 0 ? (
          <p className="attention">
            Also moved: {alsoMoved.map((d) => `${settingWords(d.key, channels)} ${plain(d.held)} → ${plain(d.intended)}`).join('; ')}
          </p>
        ) : null}
        {short ? null : <Written list={written} channels={channels} />}
        {short || !result.before ? null : <ReadingsAcrossTable before={result.before} />}
      </div>
    )
  }
  return <FailedWrite name={name} failure={result.failure} channels={channels} short={short} />
}

function Written({ list, channels }: { list: readonly Difference[]; channels: number }) {
  const plain = useSettingText()
  return (
    <table className="plain-table outcome-table">
      <thead>
        <tr>
          <th scope="col">Setting</th>
          <th scope="col" className="is-right">
            before
          </th>
          <th scope="col" className="is-right">
            held now
          </th>
        </tr>
      </thead>
      <tbody>
        {list.map((d) => (
          <tr key={d.key}>
            <td>{settingWords(d.key, channels)}</td>
            <td className="is-right">
              {plain(d.held)} {d.held === null ? null : <span className="unit">{d.heldUnit ?? d.unit}</span>}
            </td>
            <td className="is-right">
              <b>{plain(d.intended)}</b> <span className="unit">{d.unit}</span>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

const ends: Record<'restored' | 'not-restored' | 'nothing-written', string> = {
  restored: 'Every old value was put back and read back.',
  'not-restored': 'The old values could not all be put back: see below what is held now.',
  'nothing-written': 'Nothing was written.',
}

function FailedWrite({ name, failure, channels, short }: { name: string; failure: WriteFailure; channels: number; short: boolean }) {
  const plain = useSettingText()
  if (failure.kind === 'not-allowed')
    return (
      <p>
        <b className="lost">{name}: not written.</b> {failure.why}
      </p>
    )
  if (failure.kind === 'changed-meanwhile')
    return (
      <div>
        <p>
          <b className="lost">{name}: not written.</b> The indicator no longer holds what was shown; somebody may have used its front panel.
          Review again.
        </p>
        <p>
          {failure.changed.map((d) => `${settingWords(d.key, channels)} is now ${plain(d.intended)}, it was ${plain(d.held)}`).join('; ')}
        </p>
      </div>
    )
  const cause = explainWriteCause(failure.because, { setting: (key) => settingWords(key, channels), value: plain })
  return (
    <div>
      <p>
        <b className="lost">
          <Shape kind="square" />
          {name}: the write failed ({stepWords(failure.during).toLowerCase()}).
        </b>{' '}
        {cause} <b>{ends[failure.end]}</b> {failure.whereabouts?.advice}
      </p>
      {short && failure.end !== 'not-restored' ? null : <Parameters list={failure.parameters} channels={channels} />}
    </div>
  )
}

function Parameters({ list, channels }: { list: readonly ParameterOutcome[]; channels: number }) {
  const plain = useSettingText()
  if (list.length === 0) return null
  return (
    <table className="plain-table outcome-table">
      <thead>
        <tr>
          <th scope="col">Setting</th>
          <th scope="col" className="is-right">
            wanted
          </th>
          <th scope="col" className="is-right">
            before
          </th>
          <th scope="col" className="is-right">
            now
          </th>
        </tr>
      </thead>
      <tbody>
        {list.map((p) => (
          <tr key={p.key}>
            <td>{settingWords(p.key, channels)}</td>
            <td className="is-right">{plain(p.wanted)}</td>
            <td className="is-right">{plain(p.before)}</td>
            <td className="is-right">
              {p.now === 'unknown' ? (
                <span className="lost">unknown</span>
              ) : (
                <b className={p.now.value === p.before ? '' : 'attention'}>{plain(p.now.value)}</b>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
