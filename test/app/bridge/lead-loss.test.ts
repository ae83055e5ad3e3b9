import { describe, expect, it } from 'vitest'
import { explainWiringFailure, leadLoss, type Wiring } from '../../../app/bridge/lead-loss.ts'
import { supplyLoad } from '../../../app/bridge/supply.ts'
import { amperes, ohms, volts } from '../../../app/quantity/double.ts'

const cell = (extension = 0, more: { other?: number; ownCableChange?: number; input?: number } = {}) => ({
  inputResistance: ohms(more.input ?? 350),
  outputResistance: ohms(350),
  lead: {
    extension: ohms(extension),
    ...(more.other === undefined ? {} : { other: ohms(more.other) }),
    ...(more.ownCableChange === undefined ? {} : { ownCableChange: ohms(more.ownCableChange) }),
  },
})
const loss = (wiring: Wiring) => {
  const result = leadLoss(wiring)
  if (!result.ok) throw new Error(explainWiringFailure(result.failure))
  return result.value
}
const four = [cell(), cell(), cell(), cell()]

describe('what leads take from the span', () => {
  // Regression checks: worked at 40 digits beside this code, from circuit theory
  it('LW-1: 10 m AWG 24 take 0.478924 % from one sensor of 350 ohm', () => {
    expect(loss({ sensors: [cell(0.8421508015)], sense: 'indicator' }).lossPercent).toBeCloseTo(0.4789243067, 8)
  })

  it('LW-2 and LW-3: a home run carries four sensors, and its loss moves with temperature', () => {
    const at = (lead: number) => loss({ sensors: four, homeRun: { extension: ohms(lead) }, sense: 'indicator' }).span
    expect(at(1.588901536)).toBeCloseTo(0.9649550059, 9)
    expect((at(1.588901536 * (1 + 0.00393 * 30)) / at(1.588901536) - 1) * 100).toBeCloseTo(-0.4114803239, 8)
  })

  it('LW-4: the input of the indicator loads the signal besides', () => {
    const { signal } = loss({
      sensors: [cell(0)],
      homeRun: { extension: ohms(0.8421508015) },
      sense: 'indicator',
      indicatorInput: ohms(10e6),
    })
    expect((1 - signal) * 1e6).toBeCloseTo(35.16719339, 5)
  })

  it('ends at the point where the sense leads join', () => {
    const homeRun = { extension: ohms(2), other: ohms(10) }
    const at = (sense: Wiring['sense'], sensors = [cell(1)]) => loss({ sensors, homeRun, sense }).span
    // by hand: 350/(352 + 24), 350/352
    expect(at('indicator')).toBeCloseTo(350 / 376, 12)
    expect(at('junction-box')).toBeCloseTo(350 / 352, 12)
    expect(at('cell')).toBe(1)
  })

  it('counts barriers like cable, and the own cable of a sensor only by what was cut off it', () => {
    const span = (more: Parameters<typeof cell>[1]) => loss({ sensors: [cell(1, more)], sense: 'indicator' }).span
    expect(span({ other: 2 })).toBeCloseTo(350 / 356, 12)
    expect(span({ ownCableChange: -1 })).toBe(1)
    expect(span({})).toBeCloseTo(350 / 352, 12)
  })

  it('is each sensor’s own where the branches differ', () => {
    const { excitation } = loss({ sensors: [cell(0), cell(5)], homeRun: { extension: ohms(0) }, sense: 'junction-box' })
    expect(excitation[0]).toBe(1)
    expect(excitation[1]).toBeCloseTo(350 / 360, 12)
  })

  it('is not computed for wiring that cannot be', () => {
    const refused = (wiring: Wiring) => {
      const result = leadLoss(wiring)
      return result.ok ? 'computed' : result.failure.kind
    }
    expect(refused({ sensors: [], sense: 'indicator' })).toBe('no-sensor')
    expect(refused({ sensors: four, sense: 'junction-box' })).toBe('no-junction-box')
    expect(refused({ sensors: four, sense: 'cell' })).toBe('one-cell-sensed-of-several')
  })
})

describe('what the excitation has to give', () => {
  const load = (wiring: Wiring, limits: Parameters<typeof supplyLoad>[2]) => {
    const result = supplyLoad(wiring, volts(10), limits)
    if (!result.ok) throw new Error(explainWiringFailure(result.failure))
    return result.value
  }
  const sensors = Array.from({ length: 4 }, () => cell(0, { input: 385 }))

  // PC-3, regression check
  it('is 103.9 mA for four sensors of 385 ohm at 10 V', () => {
    const { current, sensorPower } = load({ sensors, sense: 'indicator' }, {})
    expect(current).toBeCloseTo(0.1038961039, 9)
    expect(sensorPower[0]).toBeCloseTo(100 / 385, 12)
  })

  // by hand: 10 V over 350 + 2 x 35 ohm, and 350/420 of it at the sensor
  it('falls with the leads where they are not sensed', () => {
    const { current, sensorPower, terminalVoltage } = load({ sensors: [cell(35)], sense: 'indicator' }, {})
    expect(current).toBeCloseTo(10 / 420, 12)
    expect(sensorPower[0]).toBeCloseTo((10 / 420) ** 2 * 350, 12)
    expect(terminalVoltage).toBeCloseTo(10, 12)
  })

  it('is held against sensors and supply, and what is not stated is not passed', () => {
    const judged = load({ sensors, sense: 'indicator' }, { supplyCurrent: amperes(0.1), sensorMaximum: volts(12) })
    expect(judged.exceeded).toEqual(['supply-current'])
    expect(load({ sensors, sense: 'indicator' }, { sensorMaximum: volts(9.9) })).toMatchObject({
      exceeded: ['sensor-excitation'],
      notStated: ['supply-current'],
    })
  })

  // by hand: 350 ohm sensed at 10 V draws 28.571 mA through 2 x 35 ohm more
  it('rises at the terminals where the excitation is kept at the sensor', () => {
    const { terminalVoltage } = load({ sensors: [cell(35)], sense: 'cell' }, {})
    expect(terminalVoltage).toBeCloseTo(12, 12)
  })
})
