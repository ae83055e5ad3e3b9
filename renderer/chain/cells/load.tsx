import { toDecimal } from '../../../app/quantity/exact.ts'
import type { DecimalSign } from '../../../app/quantity/format.ts'
import { units } from '../../../app/quantity/units.ts'
import { alwaysOn } from '../../../app/scaling/always-on.ts'
import { decimalsOf, numberText } from '../../figures/number-text.ts'
import type { PointView } from '../../state/point-view.ts'
import { ownLine } from '../certificate-line.ts'
import { overloadNow } from '../overload.ts'
import { type ChainCell, whyUnscaled } from './chain-cell.ts'

export function showLoad(view: PointView): ChainCell {
  const { point, job } = view
  const sign = job.decimalSign
  const line = ownLine(point)
  const unscaled = line.ok ? undefined : whyUnscaled(line.failure, 'load')
  const wrong = overloadNow(view) ?? (unscaled === undefined ? undefined : { said: unscaled, tone: 'attention' as const })
  return {
    most: (
      <>
        Max {numberText(point.maximumLoad, sign)} · d {numberText(point.scaleInterval, sign)} <span className="unit">{point.unit}</span>
      </>
    ),
    detail: wrong?.said ?? loadDetail(point, sign),
    tone: 'plain',
    ...(wrong ? { tone: wrong.tone, phrase: wrong.said } : {}),
  }
}

/** What always lies on the sensors; for a pressure what it is measured against. */
function loadDetail(point: PointView['point'], sign: DecimalSign): string {
  const always = alwaysOn(point)
  const worth = always.ok ? `${numberText(toDecimal(always.value.load, decimalsOf(point.scaleInterval)), sign)} ${point.unit}` : ''
  if (units[point.unit].dimension === 'pressure') {
    const kind = point.loadPath.pressure ?? 'gauge or absolute not stated'
    return always.ok && always.value.from === 'head' ? `${kind} · head ${worth}` : kind
  }
  if (!always.ok) return 'dead load unclear'
  return always.value.from === 'not-stated' ? 'dead load not stated' : `dead load ${worth}`
}
