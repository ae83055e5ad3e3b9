import { describe, expect, it } from 'vitest'
import { pointSupply } from '../../../app/bridge/point-supply.ts'
import { explainPointWiring } from '../../../app/bridge/point-wiring.ts'
import type { Point } from '../../../app/job/schema.ts'
import { volts } from '../../../app/quantity/double.ts'
import { makeCertificate, makePoint, makeProfile } from '../../builders/weighing-point.ts'

const stated = (value: string, unit: 'ohm' | 'V' | 'mA') => ({ value, unit })
const cell = (maximum?: string) =>
  makeCertificate({
    inputResistance: stated('385', 'ohm'),
    outputResistance: stated('350', 'ohm'),
    excitationRecommended: stated('5', 'V'),
    ...(maximum === undefined ? {} : { excitationMaximum: stated(maximum, 'V') }),
  })
const four = (maximum?: string, wiring: object = { wires: 6, senseAt: 'junction-box' }) =>
  makePoint({ wiring }, [cell(maximum), cell(maximum), cell(maximum), cell(maximum)])
const profile = (current?: string) =>
  makeProfile({ input: { excitationCurrent: current === undefined ? undefined : stated(current, 'mA') } })
const supply = (point: Point, excitation: number, current?: string, sharers: Point[] = []) => {
  const result = pointSupply(point, sharers, profile(current), volts(excitation))
  if (!result.ok) throw new Error(explainPointWiring(result.failure))
  return result.value
}

describe('excitation against what sensors and supply stand', () => {
  // Ohm's law by hand: four inputs of 385 ohm side by side are 96.25 ohm
  it('is current and power of all sensors, and of each', () => {
    const { load, together } = supply(four('15'), 10, '120')
    expect(load.current).toBeCloseTo(10 / 96.25, 12)
    expect(together).toBe(load.current)
    expect(load.sensorPower).toHaveLength(4)
    expect(load.sensorPower[0]).toBeCloseTo(100 / 385, 12)
    expect(load.totalPower).toBeCloseTo(100 / 96.25, 12)
    expect(load.exceeded).toEqual([])
  })

  it('names what is exceeded, and what is not stated is not passed', () => {
    expect(supply(four('8'), 10, '100').load.exceeded).toEqual(['sensor-excitation', 'supply-current'])
    expect(supply(four(), 10).load).toMatchObject({ exceeded: [], notStated: ['sensor-excitation', 'supply-current'] })
    expect([supply(four('15'), 10).aboveRecommended, supply(four('15'), 5).aboveRecommended]).toEqual([true, false])
  })

  it('counts every point on one supply together', () => {
    expect(supply(four('15'), 10, '200', [four('15')]).load.exceeded).toEqual(['supply-current'])
    expect(supply(four('15'), 10, '210', [four('15')]).load.exceeded).toEqual([])
    expect(supply(four('15'), 10, '210', [four('15')]).together).toBeCloseTo(20 / 96.25, 12)
  })

  it('leaves leads out where the wiring is not stated, and says so; without resistances there is nothing to tell', () => {
    expect(supply(four('15'), 10).leadsCounted).toBe(true)
    expect(supply(four('15', {}), 10).leadsCounted).toBe(false)
    const bare = pointSupply(makePoint(), [], profile(), volts(10))
    expect(bare.ok ? 'told' : bare.failure.kind).toBe('resistance-not-stated')
  })
})
