import { type Exact, one } from '../quantity/exact.ts'
import type { CurvePoint } from './certificate-scaling.ts'

/** Signal at a load, straight between the points of a rising curve; beyond its ends the outer segment goes on. Two points at least. */
export function signalOnCurve(curve: readonly CurvePoint[], load: Exact): Exact {
  const above = curve.findIndex((p) => p.load.gte(load))
  const upper = above < 0 ? curve.length - 1 : Math.max(1, above)
  const [a, b] = [curve[upper - 1], curve[upper]]
  if (!a || !b) throw new RangeError('a curve has two points at least')
  const part = load.sub(a.load).div(b.load.sub(a.load))
  return a.signal.mul(one.sub(part)).add(b.signal.mul(part))
}
