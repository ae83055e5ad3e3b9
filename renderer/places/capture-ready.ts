import type { CheckStep } from '../../app/job/schema.ts'
import { units } from '../../app/quantity/units.ts'
import { readingState } from '../chain/reading-text.ts'
import { decimalsOf, fixedText, numberText, signedFixedText } from '../figures/number-text.ts'
import type { PointView } from '../state/point-view.ts'

export type Readiness = {
  armed: boolean
  /** Close enough to what is on to be taken with nobody looking. */
  near: boolean
  says: string
}

/** Most of the expected step, below which a steady reading is only the one from before. */
const arrivedShare = 0.5
/** Further off than this share of the step, weights may still be missing. Common practice, no source. */
const nearShare = 0.02

/** Whether the present reading can be taken as the answer to `load`: fresh, steady, and most of the step arrived. */
export function captureReady(view: PointView, load: string, before: CheckStep | undefined): Readiness {
  const { live, point, job } = view
  const sign = job.decimalSign
  const not = (says: string): Readiness => ({ armed: false, near: false, says })
  if (!live || live.state === 'never-read') return not('There is no reading yet; type the one on the display.')
  if (live.state === 'stale') return not('The reading is stale; it is not taken.')
  const { reading } = live.sample
  if (reading === null) return not('The indicator shows no number; it is not taken.')
  const expected = Number(load) - Number(before?.load ?? '0')
  const arrived = Number(reading) - Number(before?.reading ?? '0')
  const decimals = decimalsOf(point.scaleInterval)
  if (before && expected !== 0 && arrived / expected < arrivedShare)
    return not(
      `Waiting for the step: ${fixedText(arrived, decimals, sign)} of ${numberText(String(expected), sign)} ${point.unit} has arrived. Steady before it has arrived is not steady.`,
    )
  const { given } = readingState(view)
  if (given === 'moving')
    return not(`Settling; it can be taken once it stays inside ${numberText(point.scaleInterval, sign)} ${point.unit} for 2 s.`)
  if (given !== 'steady') return not(`Not taken now: ${given}.`)
  const step = before ? Math.abs(expected) : Number(point.maximumLoad)
  const off = Number(reading) - Number(load)
  if (Math.abs(off) <= nearShare * step) return { armed: true, near: true, says: 'Steady: it can be taken.' }
  return {
    armed: true,
    near: false,
    says: `Steady, but ${signedFixedText(off, decimals, sign)} ${units[point.unit].symbol} off: look whether what is on is what is said, then take it.`,
  }
}
