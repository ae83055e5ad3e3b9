import { describe, expect, it } from 'vitest'
import { deadLoadOf } from '../../../app/loadpath/dead-load.ts'
import { alongAxis, inInclinedLegs, onTurningSheave, shareCarried } from '../../../app/loadpath/share.ts'
import { degrees } from '../../../app/quantity/double.ts'
import { exact, exactDecimal } from '../../../app/quantity/exact.ts'

// All by hand, from statics
describe('the share that the sensors carry', () => {
  it('is whole without anything in between', () => {
    expect(exactDecimal(shareCarried([]))).toBe('1')
  })

  it('falls with levers, rope parts and dummy supports, one after the other', () => {
    expect(exactDecimal(shareCarried([{ kind: 'lever', loadArm: exact('0.25'), sensorArm: exact('2.5') }]))).toBe('0.1')
    expect(exactDecimal(shareCarried([{ kind: 'reeving', parts: 8 }]))).toBe('0.125')
    const both = shareCarried([
      { kind: 'supports', onSensors: 1, all: 4 },
      { kind: 'lever', loadArm: exact('3'), sensorArm: exact('2') },
    ])
    expect(exactDecimal(both)).toBe('0.375')
    expect(() => shareCarried([{ kind: 'reeving', parts: 0 }])).toThrow(RangeError)
  })

  it('follows the angle of sensor, legs and rope', () => {
    expect(alongAxis(degrees(60))).toBeCloseTo(0.5, 12)
    expect(inInclinedLegs(2, degrees(60))).toBeCloseTo(1, 12)
    expect(onTurningSheave(degrees(180))).toBeCloseTo(2, 12)
    expect(onTurningSheave(degrees(60))).toBeCloseTo(1, 12)
  })
})

describe('dead load of a structure', () => {
  const vessel = { name: 'vessel', load: { value: '1.25', unit: 't' as const } }

  it('is the sum of its parts in the unit of the point, pipes by the part that hangs on it', () => {
    const total = deadLoadOf([vessel, { name: 'pipe', load: { value: '80', unit: 'kg' }, percent: '50' }], 'kg')
    expect(total.ok && exactDecimal(total.value)).toBe('1290')
  })

  it('takes gravity from mass to force, and names the part where it is not stated', () => {
    const force = deadLoadOf([vessel], 'N', exact('9.81'))
    expect(force.ok && exactDecimal(force.value)).toBe('12262.5')
    const refused = deadLoadOf([vessel], 'N')
    expect(!refused.ok && [refused.failure.part, refused.failure.because.kind]).toEqual(['vessel', 'needs-gravity'])
  })
})
