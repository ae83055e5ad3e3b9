import { leadsLeave } from '../../../app/bridge/point-wiring.ts'
import { units } from '../../../app/quantity/units.ts'
import { fixedText, numberText } from '../../figures/number-text.ts'
import type { PointView } from '../../state/point-view.ts'
import { unstatedLeads } from '../unstated-leads.ts'
import type { ChainCell } from './chain-cell.ts'

export function showWiring({ point, job }: PointView): ChainCell {
  const { wires, cable, senseAt } = point.wiring
  if (!wires) return { most: 'not stated', detail: 'four or six wires', tone: 'plain' }
  const run = cable?.length
  const length = run && Number(run.value) !== 0 ? ` + ${numberText(run.value, job.decimalSign)} ${units[run.unit].symbol}` : ''
  const left = leadsLeave(point.wiring, point.sensors.certificates)
  const takes = left.ok && left.value.known === 'computed' ? (1 - left.value.span) * 100 : undefined
  const joined = senseAt ? `sense joined ${senseWords[senseAt]}` : 'sense joined, not stated where'
  const unstated = left.ok ? undefined : unstatedLeads(left.failure)
  return {
    most: `${wires === 6 ? 'six-wire' : 'four-wire'}${length}`,
    detail:
      unstated ??
      (takes !== undefined && Math.abs(takes) >= 0.0005
        ? `leads take ${fixedText(takes, 3, job.decimalSign)} %`
        : wires === 6
          ? joined
          : takes === undefined
            ? 'cable not stated'
            : 'no loss'),
    tone: 'plain',
  }
}

const senseWords = { indicator: 'at the indicator', 'junction-box': 'in box', sensor: 'at sensor' } as const
