import type { LoadPath, ShareStep } from '../job/load-path.ts'
import { degrees } from '../quantity/double.ts'
import { type Exact, exact, exactDecimal, fromInteger, one, toSignificant } from '../quantity/exact.ts'
import { alongAxis, inInclinedLegs, onTurningSheave, shareCarried } from './share.ts'

/** A trigonometric factor to twelve decimals: far beyond what an angle is known to, and the same on every machine. */
const fromDouble = (value: number): Exact => exact(value.toFixed(12))

/** Part of the force that one step leaves for the sensors together (1 = all of it). Source: statics; formulas in `share.ts`. */
export function stepShare(step: ShareStep): Exact {
  switch (step.kind) {
    case 'lever':
      return shareCarried([{ kind: 'lever', loadArm: exact(step.loadArm), sensorArm: exact(step.sensorArm) }])
    case 'reeving':
    case 'supports':
      return shareCarried([step])
    case 'angle':
      return fromDouble(alongAxis(degrees(Number(step.degrees))))
    case 'legs':
      return fromDouble(inInclinedLegs(step.all, degrees(Number(step.degrees)))).mul(fromInteger(step.onSensors))
    case 'sheave':
      return fromDouble(onTurningSheave(degrees(Number(step.turned))))
  }
}

/** Part of the load that a point's sensors together carry: the product of its steps, else the percent that was typed. */
export const pointShare = (path: LoadPath): Exact =>
  path.shareSteps ? path.shareSteps.reduce((share, step) => share.mul(stepShare(step)), one) : exact(path.sharePercent).div(exact('100'))

/** The same in percent, as decimal text: 50, 33.333. */
export function sharePercentText(loadPath: LoadPath): string {
  const percent = pointShare(loadPath).mul(exact('100'))
  const whole = exactDecimal(percent)
  return whole !== undefined && whole.length <= 7 ? whole : toSignificant(percent, 5)
}
