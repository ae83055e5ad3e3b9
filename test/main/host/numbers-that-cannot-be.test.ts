import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import type { Certificate, Point } from '../../../app/job/schema.ts'
import type { Profile } from '../../../app/profile/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { proposeScaling } from '../../../app/scaling/propose-scaling.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'
import { topicSeen } from '../../builders/topic-seen.ts'

let practice: PracticeHost
beforeAll(async () => {
  practice = await startPracticeHost({ start: false })
  value(await practice.host.call('visit.start', { by: 'A. Tester' }))
  for (const busId of ['bus-1', 'bus-2']) value(await practice.host.call('bus.open', { busId }))
})
afterAll(() => practice.close())

const call: PracticeHost['host']['call'] = (name, request) => practice.host.call(name, request)
const job = () => practice.host.topics.get('job')!
const revision = () => job().revision
const point = (id: string) => job().points.find((p) => p.id === id)!
const intend = (pointId: string, values: Record<string, string>) => call('point.intend', { pointId, revision: revision(), values })
const refused = (why: string | RegExp, where?: string) => ({
  ok: false,
  failure: {
    kind: 'refused-request',
    why: typeof why === 'string' ? expect.stringContaining(why) : expect.stringMatching(why),
    ...(where ? { where } : {}),
  },
})

/** Every test begins with the points as they were. */
beforeEach(async () => {
  const points = practiceJob().points
  const edits = points.map(({ id, sensors, wiring, measured, loadPath, indicatorId, channel }) => ({
    pointId: id,
    change: { sensors, wiring, measured, loadPath, indicatorId, channel },
  }))
  value(await call('points.edit', { revision: revision(), edits }))
})

describe('a value that an indicator can never hold', () => {
  const held = () => job().points.map((p) => p.intended)

  it.each([
    ['wt-101', { 'filter.time@1': '99' }, 'Filter time: 99 is outside 0 to 10, which is what the indicator accepts'],
    ['wt-101', { 'filter.time@1': '0.125' }, '0.125 has more than the 2 decimals that the register holds; round it first'],
    ['wt-101', { 'filter.time@1': 'NaN' }, '"NaN" is not a decimal number with a point, e.g. 2.0010'],
    ['wt-101', { 'input.range@1': '7 mV/V' }, /Input range: .* can be .*2 mV\/V.*; "7 mV\/V" is none of them/],
    ['wt-101', { 'identity.model': '1' }, 'has no setting Model number'],
    ['wt-101', { 'filter.tyme@1': '1' }, 'has no setting filter.tyme.'],
    ['wt-101', { 'filter.time@2': '0.5' }, 'is not of channel 1, which WT-101 measures'],
    // A whole number of 32 bits with one decimal ends at 214 748 364.7 (two's complement).
    [
      'pt-301',
      { 'reading.decimals@1': '1', 'setpoint.1.value@1': '214748364.8' },
      'does not fit i32 with 1 decimals: -214748364.8 to 214748364.7',
    ],
  ])('is not intended at %s: %j', async (pointId, values, why) => {
    const before = held()
    expect(await intend(pointId, values)).toMatchObject(refused(why, 'values'))
    expect(held()).toEqual(before)
  })

  it('by what else is intended is said of the setting that does not fit, and nothing is written', async () => {
    value(await intend('pt-301', { 'reading.decimals@1': '1', 'setpoint.1.value@1': '200000000' }))
    value(await call('indicator.identify', { indicatorId: 'ind-4' }))
    expect(value(await call('settings.preview', { indicatorId: 'ind-4' })).writes).toContainEqual(
      expect.objectContaining({ key: 'setpoint.1.value@1', intended: '200000000' }),
    )
    value(await intend('pt-301', { 'reading.decimals@1': '3' }))
    expect(await call('settings.preview', { indicatorId: 'ind-4' })).toMatchObject(
      refused('200000000 does not fit i32 with 3 decimals', 'setpoint.1.value@1'),
    )
    expect(practice.bench.requests('ind-4').log.filter((r) => r.kind === 'write')).toEqual([])
    value(await intend('pt-301', { 'setpoint.1.value@1': '200' }))
    value(await call('settings.preview', { indicatorId: 'ind-4' }))
  })
})

describe('a certificate that no scaling can be computed from', () => {
  const stated = (change: Partial<Certificate>) => {
    const { sensors } = point('wt-101')
    const [first, ...rest] = sensors.certificates
    return { ...sensors, certificates: [{ ...first!, ...change }, ...rest] }
  }
  const without = (key: 'ratedOutput') => {
    const sensors = stated({})
    delete sensors.certificates[0]?.[key]
    return sensors
  }
  const mvPerV = (text: string) => ({ value: text, unit: 'mV/V' as const })
  const cases: [string, () => Point['sensors'], string][] = [
    [
      'no rated output',
      () => without('ratedOutput'),
      'The rated output of sensor 40117 is not stated. Enter it from the certificate, e.g. 2.0010 mV/V.',
    ],
    [
      'a negative rated output',
      () => stated({ ratedOutput: mvPerV('-2.0018') }),
      'rated output of sensor 40117 is -2.0018 mV/V; it has to be above nought. If the signal falls with load',
    ],
    [
      'a rated output of nought',
      () => stated({ ratedOutput: mvPerV('0') }),
      'rated output of sensor 40117 is 0 mV/V; it has to be above nought',
    ],
    [
      'an absurd rated output',
      () => stated({ ratedOutput: mvPerV('20018') }),
      'A rated output of 20018 mV/V (sensor 40117) is beyond any strain-gauge sensor',
    ],
    [
      'a rated output in bar',
      () => stated({ ratedOutput: { value: '2', unit: 'bar' } }),
      'The rated output of sensor 40117 is in bar; it has to be in mV/V.',
    ],
    [
      'a capacity of nought',
      () => stated({ capacity: { value: '0', unit: 'kg' } }),
      'The capacity of sensor 40117 is 0 kg; it has to be above nought.',
    ],
    [
      'a capacity in bar',
      () => stated({ capacity: { value: '500', unit: 'bar' } }),
      'they measure different things. Correct one of the two.',
    ],
    ['no sensor at all', () => ({ trimmed: false, certificates: [] }), 'No sensor is entered. Enter capacity and rated output'],
    [
      'a signal beyond every input range',
      () => stated({ ratedOutput: mvPerV('9.9') }),
      'more than the largest input range (3.5 mV/V) holds. Check rated output, dead load and maximum load.',
    ],
  ]

  it.each(cases)('%s keeps scaling values from being intended and from being typed, and says why', async (_what, sensors, why) => {
    const good = value(proposeScaling(point('wt-101'), bundledProfiles.get('two-pairs-float32-locked') as Profile)).intended
    value(await call('point.edit', { pointId: 'wt-101', revision: revision(), change: { sensors: sensors() } }))
    expect(await intend('wt-101', good)).toMatchObject(refused(why, 'values'))
    expect(await call('entry-sheet.read', { pointIds: ['wt-101'] })).toMatchObject(refused(why))
    // The point itself is all right: it is read and checked without a scaling.
    value(await call('settings.read', { indicatorId: 'ind-1' }))
    value(await call('sheet.read', { pointId: 'wt-101' }))
  })
})

describe('a value of a point that cannot be', () => {
  type Parts = Pick<Point, 'wiring' | 'sensors' | 'measured' | 'loadPath'>
  const ohm = (text: string) => ({ value: text, unit: 'ohm' as const })
  const metre = (text: string) => ({ value: text, unit: 'm' as const })
  const volt = (text: string) => ({ value: text, unit: 'V' as const })
  const conductor = { kind: 'awg' as const, gauge: 24 }
  const wired = (change: Partial<Point['wiring']>): Partial<Parts> => ({ wiring: { wires: 4, ...change } })
  const series = (ohms: string) => wired({ series: [{ what: 'barrier', ohms: ohm(ohms), between: 'indicator-and-box' }] })
  const warm = (degrees: string, unit: 'degC' | 'degF' | 'K' = 'degC') => wired({ temperature: { value: degrees, unit } })
  const stated = (change: Partial<Certificate>): Partial<Parts> => {
    const { certificates, trimmed } = point('wt-101').sensors
    return { sensors: { trimmed, certificates: certificates.map((c, i) => (i === 1 ? { ...c, ...change } : c)) } }
  }
  const sensors = (count: number): Partial<Parts> => {
    const [first] = point('wt-101').sensors.certificates
    return { sensors: { trimmed: false, certificates: Array.from({ length: count }, () => first!) } }
  }
  const latitude = (degrees: string): Partial<Parts> => ({
    loadPath: { sharePercent: '100', gravityFrom: { latitude: degrees, height: '0' }, gravityHere: { value: '9.8', unit: 'm/s2' } },
  })
  const edit = (change: Partial<Parts>) => call('point.edit', { pointId: 'wt-101', revision: revision(), change })

  // 20 °C is 293.15 K, 200 °C is 392 °F, \u221260 °C is \u221276 °F (definitions of the scales).
  const cases: [string, RegExp, (text: string) => Partial<Parts>, wrong: string[], right: string[]][] = [
    ['length of the cable', /below 0 m/, (t) => wired({ cable: { length: metre(t), conductor } }), ['-0.1', '-30'], ['0', '30']],
    ['length of an extension', /below 0 m/, (t) => wired({ sensorExtension: { length: metre(t), conductor } }), ['-1'], ['1']],
    ['cable calibrated with', /below 0 m/, (t) => wired({ ownCable: { conductor, calibrated: metre(t), now: metre('1') } }), ['-1'], ['6']],
    ['own cable now', /below 0 m/, (t) => wired({ ownCable: { conductor, calibrated: metre('6'), now: metre(t) } }), ['-1'], ['0']],
    ['temperature, °C', /between \u221260 and 200 °C/, (t) => warm(t), ['-300', '-60.1', '200.1', '2000'], ['-60', '20', '200']],
    ['temperature, °F', /between \u221260 and 200 °C/, (t) => warm(t, 'degF'), ['-77', '393'], ['-76', '392']],
    ['temperature, K', /between \u221260 and 200 °C/, (t) => warm(t, 'K'), ['20'], ['293.15']],
    ['ohms of a series part', /series part must be above 0 Ω/, series, ['0', '-12'], ['12']],
    ['measured ohms', /cannot be below 0 Ω/, (t) => wired({ measuredOhms: { 'excitation+ excitation-': t } }), ['-1'], ['0', '385']],
    ['input resistance', /input resistance must be above 0 Ω/, (t) => stated({ inputResistance: ohm(t) }), ['0', '-350'], ['385']],
    ['output resistance', /output resistance must be above 0 Ω/, (t) => stated({ outputResistance: ohm(t) }), ['0', '-350'], ['350']],
    ['tolerance of the input', /within must be above 0 Ω/, (t) => stated({ inputResistanceTolerance: ohm(t) }), ['0', '-3'], ['3.5']],
    ['tolerance of the output', /within must be above 0 Ω/, (t) => stated({ outputResistanceTolerance: ohm(t) }), ['0', '-3'], ['3.5']],
    ['safe overload', /above 100 %, e\.g\. 150 %/, (t) => stated({ safeOverloadPercent: t }), ['-150', '0', '50', '100'], ['100.1', '150']],
    [
      'certificate date',
      /like 2026-03-14/,
      (t) => stated({ date: t }),
      ['tomorrow', '2026-13-45', '2025-02-29', '12.3.2026'],
      ['2024-02-29', ''],
    ],
    ['recommended excitation', /above 0 V/, (t) => stated({ excitationRecommended: volt(t) }), ['0', '-5'], ['5']],
    ['most excitation', /above 0 V/, (t) => stated({ excitationMaximum: volt(t) }), ['0', '-5'], ['15']],
    ['excitation of the certificate', /above 0 V/, (t) => stated({ certifiedAt: volt(t) }), ['0'], ['10']],
    ['measured excitation', /above 0 V/, (t) => ({ measured: { excitation: volt(t) } }), ['0', '-5'], ['4.98']],
    ['number of sensors', /0 to 16 sensors/, (t) => sensors(Number(t)), ['17'], ['16', '0']],
    ['latitude', /from \u221290 to 90 degrees/, latitude, ['91', '-90.5'], ['-90', '90']],
  ]

  it.each(cases)('is refused with what would be right: %s', async (_what, why, change, wrong, right) => {
    for (const text of wrong) {
      const before = point('wt-101')
      expect(await edit(change(text)), text).toMatchObject(refused(why))
      expect(point('wt-101')).toEqual(before)
    }
    for (const text of right) value(await edit(change(text)))
  })

  it('is refused of a new point too, and of one of several, which is named', async () => {
    const { id: _, intended: __, indicatorId: ___, ...fields } = { ...point('wt-101'), tag: 'WT-9', ...series('0') }
    expect(await call('point.add', { revision: revision(), point: fields })).toMatchObject(refused(/series part must be above 0/, 'wiring'))
    const edits = ['wt-101', 'wt-102'].map((pointId) => ({ pointId, change: pointId === 'wt-102' ? series('-1') : { name: 'other' } }))
    expect(await call('points.edit', { revision: revision(), edits })).toMatchObject(refused(/^WT-102: The resistance of a series part/))
    expect(point('wt-101').name).not.toBe('other')
  })
})

describe('an excitation above what a sensor stands', () => {
  const weak = async (maximum: string) => {
    const { sensors } = point('wt-101')
    const certificates = sensors.certificates.map((c, i) => ({
      ...c,
      ...(i === 1 ? { excitationMaximum: { value: maximum, unit: 'V' as const } } : {}),
    }))
    value(await call('point.edit', { pointId: 'wt-101', revision: revision(), change: { sensors: { ...sensors, certificates } } }))
  }

  it('is not intended; the weakest sensor is named, and the limit itself is allowed', async () => {
    await weak('5')
    expect(await intend('wt-101', { 'excitation.voltage@1': '10 V' })).toMatchObject(
      refused(
        'WT-101: 10 V of excitation is above the 5 V that sensor 40118 stands by its certificate. It may be destroyed. Choose a lower one',
        'values',
      ),
    )
    value(await intend('wt-101', { 'excitation.voltage@1': '5 V' }))
  })

  it('of a whole indicator is judged by the sensors on each of its channels', async () => {
    const { sensors } = point('wt-202')
    const certificates = sensors.certificates.map((c) => ({ ...c, excitationMaximum: { value: '8', unit: 'V' as const } }))
    value(await call('point.edit', { pointId: 'wt-202', revision: revision(), change: { sensors: { ...sensors, certificates } } }))
    const whole = (volts: string) =>
      call('indicator.intend', { indicatorId: 'ind-3', revision: revision(), values: { 'excitation.voltage': volts } })
    expect(await whole('10 V')).toMatchObject(refused(/^WT-202: 10 V of excitation is above the 8 V/, 'values'))
    value(await whole('5 V'))
  })

  it('that was intended before the certificate said less stands first among the cautions of a review', async () => {
    value(await intend('wt-101', { 'excitation.voltage@1': '10 V' }))
    await weak('5')
    const { writes, cautions } = value(await call('settings.preview', { indicatorId: 'ind-1' }))
    expect(writes.map((w) => w.key)).toContain('excitation.voltage@1')
    expect(cautions[0]).toMatch(/^WT-101: 10 V of excitation is above the 5 V that sensor 40118 stands/)
  })
})

describe('scaling values that would meet a unit they are not for', () => {
  it('are named among the cautions of a review', async () => {
    value(await intend('wt-101', { 'reading.unit@1': 't' }))
    const { cautions } = value(await call('settings.preview', { indicatorId: 'ind-1' }))
    expect(cautions).toContainEqual(
      expect.stringMatching(/^WT-101: as it would be written, the scaling implies .* mV\/V at capacity, 99\.9 % below the certified/),
    )
  })
})

describe('two points on one channel', () => {
  /** The other model has no excitation to set, and digits of its own for its scaling. */
  const expectOnlyFit = () => {
    const { intended } = point('wt-101')
    expect(intended['filter.time@1']).toBe('0.50')
    expect(Object.keys(intended).filter((key) => key.startsWith('scale.') || key.startsWith('excitation.'))).toEqual([])
  }
  const ofChannel = (id: string) => Object.fromEntries(Object.entries(point(id).intended).filter(([key]) => key.includes('@')))

  it('are refused, whichever way the second comes there', async () => {
    const change = { indicatorId: 'ind-3', channel: 1 }
    const why = refused('WT-201 already measures channel 1 of this indicator.', 'channel')
    expect(await call('point.edit', { pointId: 'wt-101', revision: revision(), change })).toMatchObject(why)
    const { id: _, intended: __, ...fields } = { ...point('wt-101'), tag: 'WT-9', ...change }
    expect(await call('point.add', { revision: revision(), point: fields })).toMatchObject(why)
    const edits = [
      { pointId: 'wt-201', change: { channel: 3 } },
      { pointId: 'wt-101', change: { ...change, channel: 3 } },
    ]
    expect(await call('points.edit', { revision: revision(), edits })).toMatchObject(refused('already measures channel 3', 'channel'))
  })

  it('one after the other do not inherit: what was intended goes with the point that intended it', async () => {
    value(await intend('wt-201', { 'reading.decimals@1': '2' }))
    value(await call('point.edit', { pointId: 'wt-201', revision: revision(), change: { channel: 3 } }))
    expect(ofChannel('wt-201')).toEqual({ 'reading.decimals@3': '2' })
    // On another indicator of another model only what that one can hold, and nothing of its scaling.
    const scaling = value(proposeScaling(point('wt-101'), bundledProfiles.get('two-pairs-float32-locked') as Profile)).intended
    value(await intend('wt-101', { ...scaling, 'filter.time@1': '0.50', 'excitation.voltage@1': '10 V' }))
    value(
      await call('indicator.add', {
        revision: revision(),
        indicator: { name: 'Spare', busId: 'bus-1', unit: 9, profileId: 'two-pairs-int32-low-word-first' },
      }),
    )
    const spare = job().indicators.find((i) => i.name === 'Spare')!.id
    value(await call('point.edit', { pointId: 'wt-101', revision: revision(), change: { indicatorId: spare } }))
    expectOnlyFit()
  })

  it('nor does an indicator that is said to be of another model: only what that one can hold is intended still', async () => {
    const scaling = value(proposeScaling(point('wt-101'), bundledProfiles.get('two-pairs-float32-locked') as Profile)).intended
    value(await intend('wt-101', { ...scaling, 'filter.time@1': '0.50', 'excitation.voltage@1': '10 V' }))
    const become = (profileId: string) => call('indicator.edit', { revision: revision(), indicatorId: 'ind-1', change: { profileId } })
    value(await become('two-pairs-int32-low-word-first'))
    expectOnlyFit()
    value(await become('two-pairs-float32-locked'))
    value(await call('indicator.identify', { indicatorId: 'ind-1' }))
  })
})

describe('a signal beyond the input', () => {
  it('is told with the reading, and neither captured, nor taken as zero, nor as a measured signal', async () => {
    const pointId = 'wt-101'
    value(await call('indicator.identify', { indicatorId: 'ind-1' }))
    value(await call('live.start', { pointIds: [pointId] }))
    value(await call('practice.load', { pointId, load: '9000' }))
    await topicSeen(practice.host, 'live', pointId, (v) => v.state === 'fresh' && v.sample.status.includes('over-range') && v.steady)
    const { id: checkId } = value(await call('check.start', { pointId, when: 'as-found' }))
    expect(await call('check.capture', { checkId, load: '9000' })).toMatchObject(
      refused('The indicator reports over-range; this reading is not captured.'),
    )
    expect(await call('point.measure-zero', { pointId, revision: revision() })).toMatchObject(refused('over-range'))
    expect(await call('point.measure-load', { pointId, revision: revision(), load: '9000' })).toMatchObject(refused('over-range'))
    expect(point(pointId).measured.loads).toBeUndefined()
    const zero = await call('indicator.command', { pointId, command: 'zero' })
    expect(zero).toMatchObject({ ok: false })
    const { intended } = point(pointId)
    value(await intend(pointId, { 'input.range@1': '1 mV/V' }))
    const { cautions } = value(await call('settings.preview', { indicatorId: 'ind-1' }))
    expect(cautions).toContainEqual(expect.stringMatching(/^WT-101: At maximum load .* the input saturates at 1 mV\/V/))
    expect(cautions).toContainEqual(expect.stringMatching(/^WT-101: The input is at its limit now/))
    value(await intend(pointId, { 'input.range@1': intended['input.range@1'] ?? '2 mV/V' }))
    value(await call('practice.load', { pointId, load: '0' }))
  })
})

it('a measured zero of a pressure is taken only where nought can be put on it', async () => {
  const pointId = 'pt-301'
  value(await call('indicator.identify', { indicatorId: 'ind-4' }))
  value(await call('live.start', { pointIds: [pointId] }))
  await topicSeen(practice.host, 'live', pointId, (v) => v.state === 'fresh' && v.steady)
  const measure = () => call('point.measure-zero', { pointId, revision: revision() })
  const counts = async (pressure?: 'absolute') =>
    value(
      await call('point.edit', {
        pointId,
        revision: revision(),
        change: { loadPath: { sharePercent: '100', ...(pressure ? { pressure } : {}) } },
      }),
    )
  await counts('absolute')
  expect(await measure()).toMatchObject(refused('An absolute pressure is never taken as the zero', 'pointId'))
  await counts()
  expect(await measure()).toMatchObject(refused('Say first whether PT-301 measures gauge, absolute or differential', 'pointId'))
  expect(point(pointId).measured.zeroSignal).toBeUndefined()
})

it('a NaN in a register is no number anywhere, and a value is written over it', async () => {
  // 7fc0 0000 is a quiet NaN as a single float (IEEE 754-2019, 3.4 and 6.2.1).
  practice.bench.panel('ind-1', 'scale.upper.signal@1', [0x7fc0, 0])
  const image = value(await call('settings.read', { indicatorId: 'ind-1' }))
  expect(image.values['scale.upper.signal@1']).toEqual({ words: [0x7fc0, 0], value: null })
  value(await call('indicator.identify', { indicatorId: 'ind-1' }))
  value(await intend('wt-101', value(proposeScaling(point('wt-101'), bundledProfiles.get('two-pairs-float32-locked') as Profile)).intended))
  const preview = value(await call('settings.preview', { indicatorId: 'ind-1' }))
  expect(preview.writes.find((w) => w.key === 'scale.upper.signal@1')).toMatchObject({ held: null })
  value(await call('settings.write', { previewId: preview.previewId }))
  expect(practice.bench.saved('ind-1')['scale.upper.signal@1']).not.toEqual([0x7fc0, 0])
})
