import type { Degrees } from '../quantity/double.ts'
import { type Exact, exact, fromInteger, one } from '../quantity/exact.ts'

/** What stands between load and sensors: each takes or multiplies a part of the force. */
export type LoadPathStep =
  /** Force at the sensor is load times load arm over sensor arm, both from the pivot, in one unit. */
  | { kind: 'lever'; loadArm: Exact; sensorArm: Exact }
  /** The load hangs in so many parts of rope and the sensor is in one of them (dead end). */
  | { kind: 'reeving'; parts: number }
  /** Supports of which only so many stand on sensors, the load evenly on all. */
  | { kind: 'supports'; onSensors: number; all: number }

/**
 * Part of the load that the sensors carry: the product of the steps. Times 100 it is the point's share in percent.
 * Limits: no friction: sheaves and knife edges take some percent (common practice, no source); check with a known load.
 * Source: statics.
 */
export const shareCarried = (steps: readonly LoadPathStep[]): Exact => steps.reduce((share, step) => share.mul(shareOf(step)), one)

function shareOf(step: LoadPathStep): Exact {
  switch (step.kind) {
    case 'lever':
      return positive(step.loadArm).div(positive(step.sensorArm))
    case 'reeving':
      return one.div(positive(fromInteger(step.parts)))
    case 'supports':
      return positive(fromInteger(step.onSensors)).div(positive(fromInteger(step.all)))
  }
}

function positive(value: Exact): Exact {
  if (value.lte(exact('0'))) throw new RangeError('arms, rope parts and supports are above nought')
  return value
}

const inRadians = (angle: Degrees) => (angle * Math.PI) / 180

/** Part of a force that a sensor feels whose axis lies at an angle to it: the cosine. Source: statics. */
export const alongAxis = (angle: Degrees): number => Math.cos(inRadians(angle))

/** Force in each of `legs` hanging legs at an angle to the vertical, as part of the load: 1/(n cos). Source: statics. Limits: legs alike, below 90 degrees. */
export const inInclinedLegs = (legs: number, angle: Degrees): number => 1 / (legs * alongAxis(angle))

/** Force on a sheave, as multiple of the rope tension, that turns the rope by an angle (180 = straight back): 2 sin(angle/2). Source: statics. */
export const onTurningSheave = (turned: Degrees): number => 2 * Math.sin(inRadians(turned) / 2)
