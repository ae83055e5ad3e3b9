import { toDecimal } from '../../../app/quantity/exact.ts'
import type { DecimalSign } from '../../../app/quantity/format.ts'
import { units } from '../../../app/quantity/units.ts'
import { alwaysOn } from '../../../app/scaling/always-on.ts'
import { decimalsOf, numberText } from '../../figures/number-text.ts'
import type { PointView } from '../../state/point-view.ts'
import { overloadNow } from '../overload.ts'
import type { ChainCell } from './chain-cell.ts'

export function showLoad(view: PointView): ChainCell {
  const { point, job } = view
  const sign = job.decimalSign
  const over = overloadNow(view)
  return {
    most: (
      <>
        Max {numberText(point.maximumLoad, sign)} · d {numberText(point.scaleInterval, sign)} <span className="unit">{point.unit}</span>
      </>
    ),
    detail: over?.said ?? loadDetail(point, sign),
    tone: 'plain',
    ...(over ? { tone: over.tone, phrase: over.said } : {}),
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
