import { overloadNow } from '../chain/overload.ts'
import type { PointView } from '../state/point-view.ts'
import { Shape } from './quantity.tsx'

/** Says in words that more is on than the sensors stand. Nothing where it is not. */
export function Overloaded({ view }: { view: PointView }) {
  const over = overloadNow(view)
  return over ? (
    <p className={over.tone} role="status">
      <Shape kind={over.tone === 'lost' ? 'square' : 'triangle'} />
      {over.why}
    </p>
  ) : null
}
