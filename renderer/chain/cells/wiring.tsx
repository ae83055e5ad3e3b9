import { leadsLeave } from '../../../app/bridge/point-wiring.ts'
import { units } from '../../../app/quantity/units.ts'
import { fixedText, numberText } from '../../figures/number-text.ts'
import type { PointView } from '../../state/point-view.ts'
import type { ChainCell } from './chain-cell.ts'

export function showWiring({ point, job }: PointView): ChainCell {
  const { wires, cable, senseAt } = point.wiring
  if (!wires) return { most: 'not stated', detail: 'four or six wires', tone: 'plain' }
  const length =
    cable && Number(cable.length.value) !== 0
      ? ` + ${numberText(cable.length.value, job.decimalSign)} ${units[cable.length.unit].symbol}`
      : ''
  const left = leadsLeave(point.wiring, point.sensors.certificates)
  const takes = left.ok && left.value.known === 'computed' ? (1 - left.value.span) * 100 : undefined
  const joined = senseAt ? `sense joined ${senseWords[senseAt]}` : 'sense joined, not stated where'
  return {
    most: `${wires === 6 ? 'six-wire' : 'four-wire'}${length}`,
    detail:
      takes !== undefined && Math.abs(takes) >= 0.0005
        ? `leads take ${fixedText(takes, 3, job.decimalSign)} %`
        : wires === 6
          ? joined
          : takes === undefined
            ? 'cable not stated'
            : 'no loss',
    tone: 'plain',
  }
}

const senseWords = { indicator: 'at the indicator', 'junction-box': 'in box', sensor: 'at sensor' } as const
