import { plusMinus } from '../../../app/quantity/format.ts'
import type { ScalingProposal } from '../../../app/scaling/propose-scaling.ts'
import { fixedText, signedFixedText } from '../../figures/number-text.ts'
import type { PointView } from '../../state/point-view.ts'
import { Term } from '../../terms/term.tsx'
import { spanParts } from './span-parts.ts'

/** How much each part changes the span, drawn to one scale, so that a trifling part looks trifling. */
export function PartsBar({ view, proposal }: { view: PointView; proposal: ScalingProposal }) {
  const sign = view.job.decimalSign
  const parts = spanParts(view.point, proposal)
  const largest = Math.max(...parts.map((p) => Math.abs(p.percent ?? 0)), 1e-6)
  return (
    <section className="parts-bar" aria-label="Parts of the span, to scale">
      <h3>
        What changes the <Term of="span">span</Term>, to one scale
      </h3>
      <dl>
        {parts.map((part) => (
          <div key={part.what}>
            <dt>{part.what}</dt>
            <dd className="part-track" aria-hidden="true">
              {part.percent === undefined ? null : (
                <span className={part.signed ? '' : 'is-spread'} style={{ width: `${(Math.abs(part.percent) / largest) * 100}%` }} />
              )}
            </dd>
            <dd className="part-figure">
              {part.percent === undefined ? (
                <span className={part.attention ? 'attention' : 'second'}>{part.says}</span>
              ) : (
                `${part.signed ? signedFixedText(part.percent, 3, sign) : plusMinus(fixedText(Math.abs(part.percent), 3, sign))} %`
              )}
            </dd>
          </div>
        ))}
      </dl>
    </section>
  )
}
