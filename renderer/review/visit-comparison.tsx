import { Modal, NativeSelect } from '@mantine/core'
import { useEffect, useState } from 'react'
import type { PointDrift, VisitComparison, VisitName } from '../../app/contract/visit-calls.ts'
import type { Job } from '../../app/job/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { units } from '../../app/quantity/units.ts'
import { clockText, dateText, numberText, signedText } from '../figures/number-text.ts'
import { useDecimalSign } from '../parts/decimal-sign.ts'
import { Failed } from '../parts/failed.tsx'
import { useSettingText } from '../parts/setting-text.ts'
import { useRequest } from '../state/host-context.tsx'
import { channelsOf } from '../state/profiles.ts'

const named = ({ startedAt, by }: VisitName) => {
  const at = new Date(startedAt)
  return `${dateText(at)} ${clockText(at).slice(0, 5)}, ${by}`
}

/** What is otherwise than it was left: settings that have moved, and how far sensitivity, zero and span have drifted. */
export function VisitComparisonView({ job, onClose }: { job: Job; onClose: () => void }) {
  const { ask, failure } = useRequest('visits.compare')
  const [earlier, setEarlier] = useState('')
  const [found, setFound] = useState<VisitComparison | null>(null)
  const visits = [...job.visits].sort((a, b) => b.startedAt.localeCompare(a.startedAt))
  const [latest] = visits
  useEffect(() => {
    setFound(null)
    void ask(earlier === '' ? {} : { earlier }).then((answer) => {
      if (answer.ok) setFound(answer.value)
    })
  }, [ask, earlier])
  return (
    <Modal
      opened
      onClose={onClose}
      title="Changes since earlier visits"
      size="min(1080px, 94vw)"
      closeButtonProps={{ 'aria-label': 'Close' }}
    >
      <div className="trend-head">
        <NativeSelect
          aria-label="Compared with"
          value={earlier}
          onChange={(event) => setEarlier(event.currentTarget.value)}
          data={[
            { value: '', label: 'the last visit with readings to compare' },
            ...visits.filter((v) => v.id !== latest?.id).map((v) => ({ value: v.id, label: named({ ...v, visitId: v.id }) })),
          ]}
        />
        <span className="second">as found in {found ? named(found.later) : 'this visit'}, against as left then</span>
      </div>
      <Failed of={failure} />
      {found ? (
        <>
          <Moved job={job} found={found} />
          <Drift points={found.points} />
        </>
      ) : null}
    </Modal>
  )
}

function Moved({ job, found }: { job: Job; found: VisitComparison }) {
  const show = useSettingText()
  return (
    <section className="evidence">
      <h2>Settings</h2>
      <ul className="plain-list">
        {found.indicators.map((i) => (
          <li key={i.indicatorId}>
            <span>{i.name}</span>
            <span>
              {i.since === null ? (
                <span className="second">{i.why}</span>
              ) : i.moved.length === 0 ? (
                <>
                  all {i.compared} as they were left <span className="second">{dateText(new Date(i.since.startedAt))}</span>
                </>
              ) : (
                i.moved.map((d) => (
                  <span key={d.key} className="block attention">
                    {settingWords(d.key, channelsOf(job, i.indicatorId))}: left {show(d.held)} {d.heldUnit}, found {show(d.intended)}{' '}
                    {d.unit}
                  </span>
                ))
              )}
            </span>
          </li>
        ))}
      </ul>
    </section>
  )
}

function Drift({ points }: { points: readonly PointDrift[] }) {
  const sign = useDecimalSign()
  const tone = (resolved: boolean) => (resolved ? 'attention' : '')
  const none = <span className="second">–</span>
  return (
    <section className="evidence">
      <h2>Drift</h2>
      <table className="plain-table log-table">
        <thead>
          <tr>
            <th scope="col">point</th>
            <th scope="col">sensitivity held</th>
            <th scope="col">zero</th>
            <th scope="col">span</th>
            <th scope="col">remarks</th>
          </tr>
        </thead>
        <tbody>
          {points.map((p) => (
            <tr key={p.pointId}>
              <td>{p.tag}</td>
              <td>
                {p.implied
                  ? `${numberText(p.implied.before, sign)} → ${numberText(p.implied.now, sign)} mV/V, ${signedText(p.implied.changePercent, sign)} %`
                  : none}
              </td>
              <td className={tone(p.zero?.resolved ?? false)}>
                {p.zero ? `${signedText(p.zero.drift, sign)} ${units[p.unit].symbol} = ${signedText(p.zero.intervals, sign)} d` : none}
                {p.zero && !p.zero.resolved ? <span className="second small block">no more than rounding explains</span> : null}
              </td>
              <td className={tone(p.span?.resolved ?? false)}>
                {p.span
                  ? `${signedText(p.span.driftPercent, sign)} % up to ${numberText(p.span.loadNow, sign)} ${units[p.unit].symbol}`
                  : none}
                {p.span && !p.span.resolved ? <span className="second small block">no more than rounding explains</span> : null}
              </td>
              <td className="second small">{p.remarks.join(' ')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
