import { plusMinus } from '../../../app/quantity/format.ts'
import { clockText, dateText, numberText, signedFixedText } from '../../figures/number-text.ts'
import { Shape } from '../../parts/quantity.tsx'
import type { PointView } from '../../state/point-view.ts'
import { isSuperseded, judgeCheck } from '../judge-check.ts'
import type { ChainCell } from './chain-cell.ts'

export function showCheck(view: PointView): ChainCell {
  const { lastCheck, runningCheck, point, job } = view
  if (runningCheck) return { most: 'running', detail: `${runningCheck.steps.length} of 3 taken`, tone: 'plain' }
  if (!lastCheck)
    return {
      most: 'not checked',
      detail: point.tolerance
        ? `tolerance ${plusMinus(numberText(point.tolerance.value, job.decimalSign))} ${point.unit}`
        : 'no tolerance set',
      tone: 'plain',
    }
  const detail = `${lastCheck.when.replace('-', ' ')} · ${sameDay(lastCheck.startedAt) ? clockText(new Date(lastCheck.startedAt)).slice(0, 5) : dateText(new Date(lastCheck.startedAt))}`
  if (isSuperseded(view, lastCheck)) return { most: 'superseded', detail, tone: 'plain' }
  const { verdict, worst } = judgeCheck(view, lastCheck)
  const size = worst === undefined ? '' : `, ${signedFixedText(worst.intervals.valueOf(), 1, job.decimalSign)} d`
  if (verdict === 'within') return { most: `within${size}`, detail, tone: 'plain' }
  if (verdict === 'outside')
    return {
      most: (
        <>
          <Shape kind="triangle" />
          outside{size}
        </>
      ),
      detail,
      tone: 'attention',
      phrase: `outside${size}`,
    }
  return { most: `not judged${size}`, detail, tone: 'plain' }
}

const sameDay = (instant: string) => new Date(instant).toDateString() === new Date().toDateString()
