import { describe, expect, it } from 'vitest'
import { judgeOhms, leadPairs } from '../../../app/bridge/lead-pairs.ts'
import { explainPointWiring, leadsLeave } from '../../../app/bridge/point-wiring.ts'
import { wiringCost } from '../../../app/bridge/wiring-cost.ts'
import { type Wired, wiring } from '../../../app/job/wiring.ts'
import { makeCertificate } from '../../builders/weighing-point.ts'

const stated = (value: string, unit: string) => ({ value, unit })
const awg = (gauge: number, length: string) => ({ length: stated(length, 'm'), conductor: { kind: 'awg', gauge } })
const wired = (fields: Record<string, unknown>): Wired => wiring.parse(fields)
const cell = (input = '350') =>
  makeCertificate({ inputResistance: { value: input, unit: 'ohm' }, outputResistance: { value: '350', unit: 'ohm' } })

const span = (w: Wired, certificates = [cell()]) => {
  const left = leadsLeave(w, certificates)
  if (!left.ok) throw new Error(explainPointWiring(left.failure))
  return left.value.span
}
const refusal = (w: Wired, certificates = [cell()]) => {
  const left = leadsLeave(w, certificates)
  if (left.ok) throw new Error('computed')
  expect(explainPointWiring(left.failure)).toMatch(/\.$/)
  return left.failure.kind
}

describe('what the stated leads of a point leave of its span', () => {
  // Wire table: 25.67 ohm/1000 ft for AWG 24, 16.14 for AWG 22 (published standard annealed-copper wire tables, NBS Handbook 100)
  const ohmsPerMetre = { 24: 25.67 / 304.8, 22: 16.14 / 304.8 }

  it('is bridge over bridge and two leads for one sensor on four wires', () => {
    const lead = 10 * ohmsPerMetre[24]
    expect(span(wired({ wires: 4, cable: awg(24, '10') }))).toBeCloseTo(350 / (350 + 2 * lead), 6)
  })

  it('counts all sensors on the one cable from the junction box', () => {
    const lead = 30 * ohmsPerMetre[22]
    expect(span(wired({ wires: 4, cable: awg(22, '30') }), [cell(), cell(), cell(), cell()])).toBeCloseTo(87.5 / (87.5 + 2 * lead), 4)
  })

  it('falls as the copper warms: 0.00393 per kelvin (IEC 60028)', () => {
    const lead = 10 * ohmsPerMetre[24] * (1 + 0.00393 * 30)
    expect(span(wired({ wires: 4, cable: awg(24, '10'), temperature: stated('50', 'degC') }))).toBeCloseTo(350 / (350 + 2 * lead), 6)
  })

  it('loses nothing up to where the sense leads join, only what lies behind', () => {
    const six = { wires: 6, cable: awg(24, '100'), junctionBox: true }
    expect(span(wired({ ...six, senseAt: 'junction-box' }))).toBe(1)
    const behind = wired({ ...six, senseAt: 'junction-box', sensorExtension: awg(24, '10') })
    expect(span(behind)).toBeCloseTo(350 / (350 + 20 * ohmsPerMetre[24]), 6)
    expect(span(wired({ ...six, senseAt: 'sensor' }))).toBe(1)
    expect(span(wired({ ...six, senseAt: 'indicator' }))).toBeLessThan(0.96)
  })

  it('is not told while a length or the ohms of a part are not stated, and 0 is one that is', () => {
    const { conductor } = awg(24, '10')
    expect(refusal(wired({ wires: 4, cable: { conductor } }))).toBe('length-not-stated')
    expect(refusal(wired({ wires: 4, junctionBox: true, sensorExtension: { conductor } }))).toBe('length-not-stated')
    expect(refusal(wired({ wires: 4, ownCable: { conductor, calibrated: stated('6', 'm') } }))).toBe('length-not-stated')
    expect(refusal(wired({ wires: 4, series: [{ what: 'barrier', between: 'indicator-and-box' }] }))).toBe('ohms-not-stated')
    expect(span(wired({ wires: 4, cable: awg(24, '0') }))).toBe(1)
  })

  it('counts of the cable inside the certificate only what was cut off or joined', () => {
    const own = (now: string) =>
      wired({ wires: 4, ownCable: { conductor: { kind: 'awg', gauge: 24 }, calibrated: stated('6', 'm'), now: stated(now, 'm') } })
    expect(span(own('6'))).toBe(1)
    expect(span(own('2'))).toBeCloseTo(350 / (350 - 8 * ohmsPerMetre[24]), 6)
  })

  it('takes barriers and slip rings as ohms of each lead', () => {
    const series = [{ what: 'barrier', ohms: stated('12', 'ohm'), between: 'indicator-and-box' }]
    // by hand: 350 / (350 + 24)
    expect(span(wired({ wires: 4, series }))).toBeCloseTo(350 / 374, 12)
    expect(span(wired({ wires: 6, senseAt: 'junction-box', junctionBox: true, series }))).toBe(1)
  })

  it('says so where a cable on four wires is not stated, and asks for what it needs', () => {
    const plain = leadsLeave(wired({ wires: 4 }), [cell()])
    expect(plain).toEqual({ ok: true, value: { span: 1, known: 'cable-not-stated' } })
    expect(refusal(wired({ cable: awg(24, '10') }))).toBe('wires-not-stated')
    expect(refusal(wired({ wires: 6, cable: awg(24, '10') }))).toBe('sense-not-stated')
    expect(refusal(wired({ wires: 4, cable: awg(24, '10') }), [makeCertificate()])).toBe('resistance-not-stated')
    expect(refusal(wired({ wires: 4, cable: { length: stated('10', 'kg'), conductor: { kind: 'awg', gauge: 24 } } }))).toBe(
      'not-understood',
    )
  })
})

describe('the cost of each part of the leads', () => {
  it('is told for each by itself and for all, with its drift', () => {
    const cost = wiringCost(
      wired({ wires: 4, cable: awg(24, '10'), series: [{ what: 'slip rings', ohms: stated('1', 'ohm'), between: 'box-and-sensor' }] }),
      [cell()],
    )
    if (!cost.ok) throw new Error(explainPointWiring(cost.failure))
    const { parts, lossPercent, per10K } = cost.value
    expect(parts.map((p) => p.what)).toEqual(['cable', 'slip rings'])
    expect(parts[0]?.ohms).toBeCloseTo((10 * 25.67) / 304.8, 4)
    // by hand: 2 / 352 and 3.6844 / 353.6844
    expect(parts[1]?.lossPercent).toBeCloseTo(0.56818, 5)
    expect(lossPercent).toBeCloseTo(1.0417, 3)
    // 3.93 % of 2 x 0.8422 ohm on 353.68 ohm: 0.0187 %
    expect(per10K).toBeCloseTo(0.0187, 4)
  })
})

describe('ohms between the leads of a point', () => {
  const toleranced = makeCertificate({
    inputResistance: { value: '385', unit: 'ohm' },
    inputResistanceTolerance: { value: '15', unit: 'ohm' },
    outputResistance: { value: '350', unit: 'ohm' },
    outputResistanceTolerance: { value: '3', unit: 'ohm' },
  })
  const pairs = (w: Wired, certificates = [toleranced]) => {
    const list = leadPairs(w, certificates)
    if (!list.ok) throw new Error(explainPointWiring(list.failure))
    return list.value
  }
  const of = (list: ReturnType<typeof pairs>, key: string) => list.find((p) => p.key === key)?.expected

  it('are listed for each of the six pairs of four wires, and the shield open to all', () => {
    const list = pairs(wired({ wires: 4 }))
    expect(list.map((p) => p.key)).toEqual([
      'excitation+ signal+',
      'excitation+ signal-',
      'excitation+ excitation-',
      'signal+ signal-',
      'signal+ excitation-',
      'signal- excitation-',
      'shield',
    ])
    expect(of(list, 'excitation+ excitation-')).toEqual({ kind: 'band', from: 370, to: 400, approximate: false })
    expect(of(list, 'shield')).toEqual({ kind: 'open' })
  })

  it('of a sense lead and its excitation are those of the cable there and back', () => {
    const list = pairs(
      wired({
        wires: 6,
        senseAt: 'junction-box',
        junctionBox: true,
        series: [{ what: 'barrier', ohms: stated('4', 'ohm'), between: 'indicator-and-box' }],
      }),
    )
    expect(list).toHaveLength(16)
    // two leads of 4 ohm, and an ohm for the clamps
    expect(of(list, 'excitation+ sense+')).toEqual({ kind: 'at-most', to: 9 })
    expect(of(list, 'sense+ sense-')).toMatchObject({ kind: 'band', from: 378, to: 408 })
  })

  it('are lower where sensors lie side by side, each behind its own leads', () => {
    const list = pairs(wired({ wires: 4, series: [{ what: 'terminals', ohms: stated('0.5', 'ohm'), between: 'box-and-sensor' }] }), [
      toleranced,
      toleranced,
    ])
    expect(of(list, 'excitation+ excitation-')).toMatchObject({
      kind: 'band',
      from: expect.closeTo(185.5, 9),
      to: expect.closeTo(200.5, 9),
    })
  })

  it('are judged only where there is something to judge by', () => {
    const band = of(pairs(wired({ wires: 4 })), 'signal+ signal-')
    if (!band) throw new Error('no pair')
    expect([judgeOhms(band, 351), judgeOhms(band, 120)]).toEqual(['within', 'outside'])
    const bare = of(pairs(wired({ wires: 4 }), [cell()]), 'signal+ signal-')
    if (!bare) throw new Error('no pair')
    expect(judgeOhms(bare, 351)).toBe('not-judged')
    expect(judgeOhms({ kind: 'open' }, 20)).toBe('outside')
    expect(of(pairs(wired({ wires: 4 }), [makeCertificate()]), 'signal+ signal-')).toEqual({ kind: 'not-stated' })
  })
})
