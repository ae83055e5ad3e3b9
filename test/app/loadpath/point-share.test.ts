import { describe, expect, it } from 'vitest'
import { loadPath } from '../../../app/job/load-path.ts'
import { pointShare } from '../../../app/loadpath/point-share.ts'

const share = (fields: Record<string, unknown>) => pointShare(loadPath.parse(fields)).valueOf()

// Source: statics; each by hand
describe('part of the load that a point’s sensors carry', () => {
  it('is the percent that was typed where there are no steps', () => {
    expect(share({})).toBe(1)
    expect(share({ sharePercent: '25' })).toBe(0.25)
  })

  it('is the product of lever, reeving and supports, exact', () => {
    const steps = [
      { kind: 'lever', loadArm: '200', sensorArm: '1000' },
      { kind: 'reeving', parts: 4 },
      { kind: 'supports', onSensors: 2, all: 3 },
    ]
    // 1/5 x 1/4 x 2/3
    expect(pointShare(loadPath.parse({ shareSteps: steps, sharePercent: '50' })).toFraction()).toBe('1/30')
  })

  it('is less along an inclined axis, more in inclined legs, and twice the rope at a sheave that turns it back', () => {
    expect(share({ shareSteps: [{ kind: 'angle', degrees: '60' }] })).toBeCloseTo(0.5, 11)
    expect(share({ shareSteps: [{ kind: 'legs', onSensors: 2, all: 2, degrees: '60' }] })).toBeCloseTo(2, 11)
    expect(share({ shareSteps: [{ kind: 'legs', onSensors: 1, all: 4, degrees: '0' }] })).toBe(0.25)
    expect(share({ shareSteps: [{ kind: 'sheave', turned: '180' }] })).toBeCloseTo(2, 11)
    expect(share({ shareSteps: [{ kind: 'sheave', turned: '60' }] })).toBeCloseTo(1, 11)
  })

  it('does not take an arm of nought, a right angle or no rope', () => {
    const taken = (step: Record<string, unknown>) => loadPath.safeParse({ shareSteps: [step] }).success
    expect(taken({ kind: 'lever', loadArm: '0', sensorArm: '1' })).toBe(false)
    expect(taken({ kind: 'angle', degrees: '90' })).toBe(false)
    expect(taken({ kind: 'reeving', parts: 0 })).toBe(false)
    expect(taken({ kind: 'reeving', parts: 2 })).toBe(true)
  })
})
