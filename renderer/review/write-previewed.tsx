import type { ReactNode } from 'react'
import { besidesWords } from '../../app/contract/preview-words.ts'
import type { WritePreview } from '../../app/contract/views.ts'
import { isFor } from '../../app/job/intended.ts'
import type { Job } from '../../app/job/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { rulesFirst } from '../../app/safety-words.ts'
import { sentence } from '../../app/sentence.ts'
import { useSettingText } from '../parts/setting-text.ts'
import { useTopic } from '../state/host-context.tsx'
import { channelsOf } from '../state/profiles.ts'
import { consequenceOf, scalingConsequence } from './consequence.ts'

/** What is held, what it becomes, what follows from it, and the cautions; below, what can be done. */
export function WritePreviewed({ job, preview, none, children }: { job: Job; preview: WritePreview; none: string; children: ReactNode }) {
  const state = useTopic('indicator', preview.indicatorId)
  const plain = useSettingText()
  const points = job.points.filter((p) => p.indicatorId === preview.indicatorId)
  const follows = points.flatMap((p) => {
    const text = scalingConsequence(job, p, state, preview.writes)
    return text ? [{ tag: p.tag, channel: p.channel, text }] : []
  })
  const channels = channelsOf(job, preview.indicatorId)
  const { unlocks, saves, restarts } = preview.procedure
  const sealed = job.indicators.find((i) => i.id === preview.indicatorId)?.sealed
  const steps = [
    unlocks && !sealed ? 'unlocks the indicator' : null,
    'writes and reads back',
    saves ? 'saves in the indicator' : preview.unsaved.length === 0 ? 'kept at once by the indicator' : null,
    restarts ? 'restarts it' : null,
  ].filter((s) => s !== null)
  if (preview.writes.length === 0)
    return (
      <>
        <p>{none}</p>
        {children}
      </>
    )
  return (
    <>
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">setting</th>
            <th scope="col" className="is-right">
              held
            </th>
            <th scope="col" aria-label="becomes" />
            <th scope="col">becomes</th>
            <th scope="col">what follows</th>
          </tr>
        </thead>
        <tbody>
          {preview.writes.map((d) => (
            <tr key={d.key}>
              <td>{settingWords(d.key, channels)}</td>
              <td className="is-right">
                {plain(d.held)} {d.held === null ? null : <span className="unit">{d.heldUnit ?? d.unit}</span>}
              </td>
              <td className="second">→</td>
              <td>
                <b>{plain(d.intended)}</b> <span className="unit">{d.unit}</span>
              </td>
              <td className="second">
                {consequenceOf(
                  d,
                  follows.some((f) => isFor(d.key, f.channel)),
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {follows.map((f) => (
        <p key={f.tag}>
          <b>{f.tag}:</b> {f.text}
        </p>
      ))}
      {preview.moves.map((m) => (
        <p key={m.when} className="attention">
          {settingWords(m.when)} also moves {m.moves.map((k) => settingWords(k).toLowerCase()).join(', ')}. {m.why}
        </p>
      ))}
      {preview.cautions.map((c) => (
        <p key={c} className="caution">
          {c}
        </p>
      ))}
      {sealed ? (
        <p className="caution">
          <b>
            {unlocks ? 'Unlocks and writes' : 'Writes'} to a sealed indicator ({sealed.seals}).
          </b>{' '}
          {sealed.broken
            ? 'Re-verification is due afterwards.'
            : 'Writing needs a name, a reason and the seal numbers first: Settings, Break the seal.'}
        </p>
      ) : null}
      <p className="second">
        {sentence(steps.join(', '))}. {besidesWords(preview)} The old values are kept on disk first and can be put back. {rulesFirst}
      </p>
      {children}
    </>
  )
}
