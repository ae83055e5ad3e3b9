import { appliedWords } from '../../app/applied-words.ts'
import { asJudged, changedSinceJudged } from '../../app/evaluation/as-judged.ts'
import type { EvaluatedStep } from '../../app/evaluation/quick-check.ts'
import type { QuickCheck } from '../../app/job/schema.ts'
import { isSuperseded, judgeCheck } from '../chain/judge-check.ts'
import { clockText, dateText, decimalsOf, numberText, signedFixedText } from '../figures/number-text.ts'
import { Shape } from '../parts/quantity.tsx'
import type { PointView } from '../state/point-view.ts'
import { Term } from '../terms/term.tsx'
import { zeroReturnWords } from './zero-return.ts'

/** The checks of this point before the newest, newest first. */
export function EarlierChecks({ view }: { view: PointView }) {
  const checks = view.job.visits.flatMap((v) => v.checks).filter((c) => c.pointId === view.point.id && c.finishedAt !== undefined)
  if (checks.length < 2) return null
  return (
    <div className="group">
      <h2>Earlier checks</h2>
      <ul className="plain-list">
        {checks
          .slice(0, -1)
          .reverse()
          .map((c) => (
            <li key={c.id}>
              <span>
                {c.when.replace('-', ' ')}, {clockText(new Date(c.startedAt)).slice(0, 5)}, {dateText(new Date(c.startedAt))}
              </span>
              <span>
                <VerdictWord view={view} check={c} />
              </span>
            </li>
          ))}
      </ul>
    </div>
  )
}

function VerdictWord({ view, check }: { view: PointView; check: QuickCheck }) {
  const { verdict, worst } = judgeCheck(view, check)
  const size = worst ? `, ${signedFixedText(worst.intervals.valueOf(), 1, view.job.decimalSign)} d` : ''
  return (
    <span className={verdict === 'outside' ? 'attention' : ''}>
      {verdict === 'outside' ? <Shape kind="triangle" /> : null}
      {verdict === 'cannot-be-judged' ? 'not judged' : verdict}
      {size}
      {isSuperseded(view, check) ? ' · superseded' : ''}
    </span>
  )
}

/** Verdict, largest error and, on demand, the figures of one check. */
export function Result({ view, check }: { view: PointView; check: QuickCheck }) {
  const { job } = view
  const point = asJudged(check, view.point)
  const sign = job.decimalSign
  const result = judgeCheck(view, check)
  const changed = changedSinceJudged(check, view.point, view.job.decimalSign)
  const old = isSuperseded(view, check)
  const { worst, verdict, zeroReturn } = result
  const decimals = decimalsOf(point.scaleInterval)
  return (
    <div className={old ? 'superseded' : ''}>
      <p className="second">
        {point.tag} · {check.when.replace('-', ' ')} · {dateText(new Date(check.startedAt))}{' '}
        {clockText(new Date(check.startedAt)).slice(0, 5)}, {check.by}
      </p>
      <p className={`verdict ${verdict === 'outside' ? 'attention' : ''}`}>
        {verdict === 'outside' ? <Shape kind="triangle" /> : null}
        {verdict === 'cannot-be-judged' ? 'cannot be judged' : `${verdict} tolerance`}
      </p>
      {worst ? (
        <p>
          largest error <b>{signedFixedText(worst.error.valueOf(), decimals, sign)}</b> <span className="unit">{point.unit}</span> ={' '}
          <b>{signedFixedText(worst.intervals.valueOf(), 1, sign)}</b> <span className="unit">d</span> at{' '}
          {numberText(String(worst.load.valueOf()), sign)} <span className="unit">{point.unit}</span>
        </p>
      ) : null}
      {old ? (
        <p className="caution">
          <Term of="superseded">Superseded</Term>: {changed.length > 0 ? changed.join(' ') : 'the scaling values have changed since.'} Check
          again to know what holds now.
        </p>
      ) : null}
      {result.reasons.map((r) => (
        <p key={r} className="second">
          {r}
        </p>
      ))}
      {zeroReturn ? (
        <p className="second">{zeroReturnWords(zeroReturn.valueOf(), result.steps[0]?.reading.valueOf() ?? Number.NaN, point, sign)}</p>
      ) : null}
      {result.remarks.map((r) => (
        <p key={r} className="caution small">
          {r}
        </p>
      ))}
      <details className="figures">
        <summary>Figures of {result.steps.length === 1 ? 'the one step' : `the ${result.steps.length} steps`}</summary>
        <Figures view={view} check={check} steps={result.steps} />
      </details>
    </div>
  )
}

function Figures({ view, check, steps }: { view: PointView; check: QuickCheck; steps: readonly EvaluatedStep[] }) {
  const { job } = view
  const point = asJudged(check, view.point)
  const sign = job.decimalSign
  // An amount typed finer than the interval gives an error as fine.
  const decimals = Math.max(decimalsOf(point.scaleInterval), ...check.steps.map((s) => decimalsOf(s.load)))
  const { quantity } = appliedWords(point)
  return (
    <table className="plain-table">
      <thead>
        <tr>
          {[quantity, 'reading', `error ${point.unit}`, 'in d', `% of ${quantity}`].map((name) => (
            <th scope="col" key={name} className="is-right">
              {name}
            </th>
          ))}
          <th scope="col">origin</th>
        </tr>
      </thead>
      <tbody>
        {steps.map((s, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the steps of a check are known by their place
          <tr key={i}>
            <td className="is-right">{numberText(check.steps[i]?.load ?? '', sign)}</td>
            <td className="is-right">{numberText(check.steps[i]?.reading ?? '', sign)}</td>
            <td className="is-right">{signedFixedText(s.error.valueOf(), decimals, sign)}</td>
            <td className="is-right">{signedFixedText(s.intervals.valueOf(), 1, sign)}</td>
            <td className="is-right">{s.percentOfLoad ? signedFixedText(s.percentOfLoad.valueOf(), 3, sign) : '–'}</td>
            <td>{check.steps[i]?.origin}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
