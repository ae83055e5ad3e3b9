import { Modal } from '@mantine/core'
import { useEffect, useState } from 'react'
import type { LogEntry } from '../../app/contract/log-calls.ts'
import type { Job } from '../../app/job/schema.ts'
import { unsavedWords } from '../../app/profile/kept.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { clockText, dateText } from '../figures/number-text.ts'
import { Failed } from '../parts/failed.tsx'
import { useSettingText } from '../parts/setting-text.ts'
import { useRequest } from '../state/host-context.tsx'
import { channelsOf } from '../state/profiles.ts'

const results: Record<LogEntry['result'], string> = {
  written: 'written, read back equal',
  restored: 'failed; the old values were put back',
  'not-restored': 'failed; not put back',
  'nothing-written': 'nothing was written',
  open: 'interrupted, not ended yet',
  left: 'interrupted, left as it was',
  done: 'done',
  failed: 'failed',
}

/** Every write and command with its time, who gave it, old and new value and how it ended. Nothing is ever taken out. */
export function WriteLog({ job, pointId, onClose }: { job: Job; pointId: string | null; onClose: () => void }) {
  const { ask, failure } = useRequest('log.read')
  const [log, setLog] = useState<{ entries: readonly LogEntry[]; unreadable: number } | null>(null)
  const tag = job.points.find((p) => p.id === pointId)?.tag
  useEffect(() => {
    void ask(pointId === null ? {} : { pointId }).then((answer) => {
      if (answer.ok) setLog(answer.value)
    })
  }, [ask, pointId])
  return (
    <Modal
      opened
      onClose={onClose}
      title={tag ? `Log of writes that touched ${tag}` : 'Log of writes'}
      size="min(1080px, 94vw)"
      closeButtonProps={{ 'aria-label': 'Close' }}
    >
      <Failed of={failure} />
      {log?.unreadable ? (
        <p className="caution small">
          {log.unreadable} {log.unreadable === 1 ? 'line' : 'lines'} of the log cannot be read: the program was stopped while writing them.
        </p>
      ) : null}
      {log && log.entries.length === 0 ? <p className="empty-place roomy">nothing was written yet</p> : null}
      {log && log.entries.length > 0 ? (
        <table className="plain-table log-table">
          <thead>
            <tr>
              <th scope="col">when, who</th>
              <th scope="col">indicator, points</th>
              <th scope="col">what</th>
              <th scope="col">how it ended</th>
            </tr>
          </thead>
          <tbody>
            {log.entries.map((entry) => (
              <Entry key={`${entry.at} ${entry.indicatorId} ${entry.journalId ?? entry.command ?? ''}`} job={job} entry={entry} />
            ))}
          </tbody>
        </table>
      ) : null}
    </Modal>
  )
}

function Entry({ job, entry }: { job: Job; entry: LogEntry }) {
  const show = useSettingText()
  const channels = channelsOf(job, entry.indicatorId)
  const at = new Date(entry.at)
  const bad = entry.result === 'not-restored' || entry.result === 'open' || entry.result === 'failed'
  return (
    <tr>
      <td className="nowrap">
        {dateText(at)}, {clockText(at)}
        <span className="second small block">{entry.by === '' ? 'not named' : entry.by}</span>
      </td>
      <td>
        {entry.indicator}, address {entry.unit}
        <span className="second small block">{entry.tags.join(', ')}</span>
      </td>
      <td>
        {entry.kind === 'command' ? entry.command?.replace('-', ' ') : null}
        {entry.values.map((v) => (
          <span key={v.key} className="block">
            <span className="second">{settingWords(v.key, channels)}</span> {show(v.old)} <span className="unit">{v.oldUnit}</span> →{' '}
            {show(v.new)} <span className="unit">{v.unit}</span>
            {v.now === undefined ? null : <span className="attention"> · now {v.now === 'unknown' ? 'unknown' : show(v.now.value)}</span>}
          </span>
        ))}
        {entry.unsaved.length > 0 ? <span className="block attention">{unsavedWords(entry.unsaved, channels, 'after')}</span> : null}
        {entry.alsoMoved.map((v) => (
          <span key={v.key} className="block attention">
            also moved: {settingWords(v.key, channels)} {show(v.held)} {v.heldUnit} → {show(v.intended)} {v.unit}
          </span>
        ))}
      </td>
      <td className={bad ? 'lost' : ''}>
        {results[entry.result]}
        {entry.why ? <span className="second small block">{entry.why}</span> : null}
      </td>
    </tr>
  )
}
