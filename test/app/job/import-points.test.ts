import { describe, expect, it } from 'vitest'
import { type ImportContext, importPoints } from '../../../app/job/import-points.ts'
import { pointsFromTemplate } from '../../../app/job/points-from-template.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { makeCertificate, makePoint } from '../../builders/weighing-point.ts'

function context(change: Partial<ImportContext> = {}): ImportContext {
  let n = 0
  return {
    decimalSign: '.',
    points: [],
    indicators: [{ id: 'ind-1', name: 'Panel A', busId: 'b', unit: 1, profileId: 'two-pairs-float32-locked' }],
    profiles: bundledProfiles,
    newId: () => `point-${++n}`,
    ...change,
  }
}

const heading = ['Tag', 'Description', 'Maximum load', 'Scale interval']
const one = (column: string, cell: string) =>
  importPoints(
    [
      [...heading, column],
      ['WT-1', '', '1000 kg', '0.2', cell],
    ],
    context(),
  )
const whyOf = (column: string, cell: string) =>
  one(column, cell)
    .errors.map((e) => e.why)
    .join(' ')

describe('points from a sheet', () => {
  it('takes quantities as people type them and keeps the digits', () => {
    const rows = [
      ['Tag No.', 'Service', 'Max. load (kg)', 'd (kg)', 'Dead load', 'Share (%)', 'Wires', 'Serials', 'Capacity', 'Rated output'],
      ['WT-1', 'Hopper', '1 000', '0,20', '0,15 t', '100', '6 wires', '401; 402', '5 kN', '2,0010 mV/V'],
    ]
    const { points, errors } = importPoints(rows, context({ decimalSign: ',' }))
    expect(errors).toEqual([])
    expect(points).toMatchObject([
      {
        tag: 'WT-1',
        name: 'Hopper',
        unit: 'kg',
        maximumLoad: '1000',
        scaleInterval: '0.20',
        channel: 1,
        loadPath: { deadLoad: { value: '0.15', unit: 't' }, sharePercent: '100' },
        wiring: { wires: 6 },
        sensors: {
          certificates: [
            { serial: '401', capacity: { value: '5', unit: 'kN' }, ratedOutput: { value: '2.0010', unit: 'mV/V' } },
            { serial: '402', ratedOutput: { value: '2.0010', unit: 'mV/V' } },
          ],
        },
      },
    ])
  })

  it('writes loads in the unit of the point, exactly', () => {
    const { points } = importPoints(
      [
        [...heading, 'Unit'],
        ['WT-1', '', '2.5 t', '500 g', 'kg'],
      ],
      context(),
    )
    expect(points).toMatchObject([{ unit: 'kg', maximumLoad: '2500', scaleInterval: '0.5' }])
  })

  it('takes no capacity and no dead load of another kind than the point', () => {
    expect(whyOf('Capacity', '250 bar')).toMatch(/^bar is a unit of pressure; here stands a mass or force/)
    expect(whyOf('Dead load', '2 bar')).toMatch(/^bar is a unit of pressure; here stands a mass or force/)
    expect(whyOf('Capacity', '5 kN')).toBe('')
  })

  it('takes a scale interval without a unit in that of the maximum load, and says so', () => {
    const rows = (d: string) => [
      ['Tag', 'Max (t)', d],
      ['WT-1', '2.5', '0.001'],
    ]
    const { points, columns } = importPoints(rows('d'), context())
    expect(points).toMatchObject([{ unit: 't', maximumLoad: '2.5', scaleInterval: '0.001' }])
    expect(columns[2]).toEqual({ heading: 'd', field: 'scaleInterval', bareIn: ['t'] })
    expect(importPoints(rows('d (t)'), context()).columns[2]).toEqual({ heading: 'd (t)', field: 'scaleInterval' })
  })

  it('asks for the unit of a scale interval where maximum load and point have different ones', () => {
    const rows = (d: string) => [
      ['Tag', 'Max (t)', 'd', 'Unit'],
      ['WT-1', '2.5', d, 'kg'],
    ]
    const { points, errors } = importPoints(rows('0.5'), context())
    expect(points).toEqual([])
    expect(errors).toEqual([{ row: 2, column: 'd', why: expect.stringContaining('like "0.5 kg"') }])
    expect(importPoints(rows('0.5 kg'), context()).points).toMatchObject([{ maximumLoad: '2500', scaleInterval: '0.5' }])
  })

  it('follows the mapping of the user before names, and says what it took', () => {
    const rows = [
      ['Loop', 'Range', 'Step', 'Tag'],
      ['WT-7', '100 kg', '0.1', 'old'],
    ]
    const { points, columns } = importPoints(rows, context(), { tag: 'Loop', maximumLoad: 'Range', scaleInterval: 'Step' })
    expect(points).toMatchObject([{ tag: 'WT-7', maximumLoad: '100' }])
    expect(columns.map((c) => c.field)).toEqual(['tag', 'maximumLoad', 'scaleInterval', null])
  })

  it.each([
    ['a heading that is not there', { tag: 'Loop' }, heading, 'There is no column "Loop"'],
    ['two columns for one thing', {}, [...heading, 'Point'], 'both tag'],
    ['no column for the tag', {}, ['Max load', 'Interval'], 'No column for the tag'],
  ])('refuses %s', (_what, mapping, headings, why) => {
    const { points, errors } = importPoints([headings, ['WT-1', 'x', '1 kg', '0.1']], context(), mapping)
    expect(points).toEqual([])
    expect(errors[0]).toMatchObject({ row: 1, why: expect.stringContaining(why) })
  })

  it.each([
    ['', 'missing'],
    ['NaN', 'not begin with a number'],
    ['Infinity kg', 'not begin with a number'],
    ['1e300 kg', 'beyond anything measured'],
    ['-5 kg', 'above nought'],
    ['0 kg', 'above nought'],
    ['1000', 'unit is missing'],
    ['10 tons', 'can mean'],
    ['10 s', 'unit of time'],
    ['1,234 kg', 'can be 1234 (grouped) or 1.234 (decimal)'],
    ['#REF!', 'not begin with a number'],
  ])('the maximum load "%s" is an error in its row and column: %s', (cell, why) => {
    const { points, errors } = importPoints([heading, ['WT-0', '', '10 kg', '0.1'], ['WT-1', '', cell, '0.1']], context())
    expect(points.map((p) => p.tag)).toEqual(['WT-0'])
    expect(errors).toEqual([{ row: 3, column: 'Maximum load', why: expect.stringContaining(why) }])
  })

  it.each([
    ['Scale interval', '1000', 'below the maximum load'],
    ['Scale interval', '0', 'above nought'],
    ['Scale interval', '1 lb', ''],
    ['Scale interval', '1 kN', 'cannot be written in kg'],
  ])('%s "%s": %s', (_column, cell, why) => {
    const { errors, points } = importPoints([heading, ['WT-1', '', '1000 kg', cell]], context())
    if (why === '') expect(points).toMatchObject([{ scaleInterval: '0.45359237' }])
    else expect(errors).toEqual([{ row: 2, column: 'Scale interval', why: expect.stringContaining(why) }])
  })

  it.each([
    ['Channel', '0', 'from 1 to 32'],
    ['Channel', '1.5', 'from 1 to 32'],
    ['Wires', '5', 'write 4 or 6'],
    ['Pressure', 'sealed', 'none of gauge'],
    ['Indicator', 'Panel Z', 'The job has: Panel A'],
    ['Share', '0', 'above nought'],
    ['Capacity', '0 kg', 'above nought'],
    ['Safe overload', '50', 'above 100 %'],
    ['Unit', 'furlong', 'no unit of load'],
    ['Gravity', '9.81 kg', 'unit of mass'],
  ])('%s "%s" is refused: %s', (column, cell, why) => {
    expect(whyOf(column, cell)).toContain(why)
    expect(one(column, cell).points).toEqual([])
  })

  it.each(['Sensors', 'Cells', 'No. of cells', 'Number of sensors'])('a column "%s" of small numbers counts the sensors', (column) => {
    const rows = [
      [...heading, column, 'Capacity', 'Serial'],
      ['WT-1', '', '3000 kg', '1', '4', '1000 kg', ''],
      ['WT-2', '', '1500 kg', '1', '2', '1000 kg', '401/402'],
    ]
    const { points, errors, columns } = importPoints(rows, context())
    expect(errors).toEqual([])
    expect(columns[4]?.field).toBe('sensorCount')
    expect(points.map((p) => p.sensors.certificates.map((c) => [c.serial, c.capacity?.value]))).toEqual([
      [
        ['', '1000'],
        ['', '1000'],
        ['', '1000'],
        ['', '1000'],
      ],
      [
        ['401', '1000'],
        ['402', '1000'],
      ],
    ])
  })

  it('leaves not stated what a row does not state of its sensors', () => {
    const rows = [
      [...heading, 'Cells', 'Serial', 'Capacity'],
      ['WT-1', '', '3000 kg', '1', '2', '', ''],
      ['WT-2', '', '3000 kg', '1', '', '401', ''],
      ['WT-3', '', '3000 kg', '1', '', '', ''],
    ]
    const { points, errors } = importPoints(rows, context())
    const nothing = { number: '', date: '', gravity: 'not-stated' }
    expect(errors).toEqual([])
    expect(points.map((p) => p.sensors.certificates)).toEqual([
      [
        { ...nothing, serial: '' },
        { ...nothing, serial: '' },
      ],
      [{ ...nothing, serial: '401' }],
      [],
    ])
  })

  it('takes "Sensors" with serial numbers under it for those', () => {
    const rows = [
      [...heading, 'Sensors', 'Capacity'],
      ['WT-1', '', '1000 kg', '0.2', '401; 402', '500 kg'],
    ]
    expect(importPoints(rows, context()).points[0]?.sensors.certificates.map((c) => c.serial)).toEqual(['401', '402'])
  })

  it.each([
    ['Serials', ['3', '4']],
    ['Serials', ['401; 402', '4']],
    ['Sensors', ['401; 402', '4']],
  ])('asks what "%s" over %j is, and reads it as chosen', (column, cells) => {
    const rows = [[...heading, column, 'Capacity'], ...cells.map((cell, i) => [`WT-${i}`, '', '1000 kg', '1', cell, '500 kg'])]
    const asked = importPoints(rows, context())
    expect(asked.columns[4]?.field).toBeNull()
    expect(asked.errors).toEqual([{ row: 1, column, why: expect.stringContaining('serial numbers or the number of sensors') }])
    expect(importPoints(rows, context(), { serials: column }).points[1]?.sensors.certificates).toMatchObject([{ serial: '4' }])
    expect(importPoints(rows, context(), { serials: null }).points[1]?.sensors.certificates).toMatchObject([{ serial: '' }])
  })

  it.each([
    ['17', '', '1 to 16'],
    ['0', '', '1 to 16'],
    ['4 x 500 kg', '', 'a column of its own'],
    ['4', '401; 402', '2 serial numbers and 4 sensors'],
  ])('refuses the number of sensors "%s" with serials "%s": %s', (count, serials, why) => {
    const rows = [
      [...heading, 'No. of sensors', 'Serial numbers', 'Capacity'],
      ['WT-1', '', '1000 kg', '0.2', count, serials, '500 kg'],
    ]
    expect(importPoints(rows, context()).points).toEqual([])
    expect(importPoints(rows, context()).errors.map((e) => e.why)).toEqual([expect.stringContaining(why)])
  })

  it('refuses a tag used twice, in the job or in the sheet, and two points on one channel', () => {
    const rows = [
      [...heading, 'Indicator', 'Channel'],
      ['WT-101', '', '10 kg', '0.1', '', ''],
      ['WT-2', '', '10 kg', '0.1', 'panel a', '1'],
      ['WT-2', '', '10 kg', '0.1', '', ''],
      ['WT-3', '', '10 kg', '0.1', 'ind-1', '1'],
      ['WT-4', '', '10 kg', '0.1', 'ind-1', '9'],
    ]
    const { points, errors } = importPoints(rows, context({ points: [makePoint()] }))
    expect(points.map((p) => p.tag)).toEqual(['WT-2'])
    expect(errors.map((e) => [e.row, e.column])).toEqual([
      [2, 'Tag'],
      [4, 'Tag'],
      [5, 'Channel'],
      [6, 'Channel'],
    ])
  })

  it('names every wrong cell of every row, each once', () => {
    const rows = [
      [...heading, 'Unit', 'Wires', 'Share', 'Capacity', 'Indicator', 'Channel', 'Safe overload'],
      ['', '', '1000 kg', 'x', '', '5', '0', '0 kg', 'Panel Z', '99', '50'],
      ['WT-101', '', '1000', 'y', 'furlong', '6', '100', '5 s', 'Panel A', '9'],
      ['WT-3', '', 'much', '', '', '4', '100', '', '', ''],
      ['WT-4', '', '0 kg', '0', '', '4', 'half', '', '', ''],
    ]
    const { points, errors } = importPoints(rows, context({ points: [makePoint()] }))
    expect(points).toEqual([])
    const columns = (row: number) => errors.filter((e) => e.row === row).map((e) => e.column)
    expect(columns(2).sort()).toEqual(['Capacity', 'Channel', 'Indicator', 'Safe overload', 'Scale interval', 'Share', 'Tag', 'Wires'])
    expect(columns(3).sort()).toEqual(['Capacity', 'Channel', 'Scale interval', 'Tag', 'Unit'])
    expect(columns(4).sort()).toEqual(['Maximum load', 'Scale interval'])
    expect(columns(5).sort()).toEqual(['Maximum load', 'Scale interval', 'Share'])
  })

  it('does not drop a channel without an indicator: the row says so', () => {
    const rows = (column: string[], cells: string[]) => [
      [...heading, 'Channel', ...column],
      ['WT-1', '', '1000 kg', '0.2', '1', ...cells],
    ]
    for (const sheet of [rows([], []), rows(['Indicator'], [''])])
      expect(importPoints(sheet, context())).toMatchObject({
        points: [],
        errors: [{ row: 2, column: 'Channel', why: expect.stringContaining('name the indicator too') }],
      })
    expect(importPoints(rows(['Indicator'], ['Panel A']), context()).points).toMatchObject([{ indicatorId: 'ind-1', channel: 1 }])
  })

  it('refuses a row torn by an unquoted comma, a sheet without rows and one too long', () => {
    expect(
      importPoints([heading, ['WT-1', '', '2', '5 t', '0.1']], context())
        .errors.map((e) => e.why)
        .join(),
    ).toContain('more cells')
    expect(importPoints([heading], context()).errors[0]?.why).toContain('no rows')
    expect(importPoints([], context()).errors[0]?.why).toContain('no headings')
    const long = Array.from({ length: 2_001 }, (_, i) => [`T${i}`, '', '1 kg', '0.1'])
    expect(importPoints([heading, ...long], context()).errors[0]?.why).toContain('2001 rows')
  })
})

describe('points from a template', () => {
  const template = makePoint(
    {
      measured: { zeroSignal: { value: '0.1', unit: 'mV/V' } },
      intended: { 'filter.time@1': '0.5', 'scale.upper.signal@1': '2', 'comm.baud': '9600' },
    },
    [makeCertificate({ number: 'C1', excitationMaximum: { value: '12', unit: 'V' } })],
  )
  const make = (change: object) =>
    pointsFromTemplate({ pointId: 'p1', tagPattern: 'WT-2##', firstNumber: 9, count: 2, ...change }, context({ points: [template] }))

  it('numbers the tags and takes over what is common, not what is one sensor’s own', () => {
    const { points, errors } = make({})
    expect(errors).toEqual([])
    expect(points.map((p) => p.tag)).toEqual(['WT-209', 'WT-210'])
    expect(points[0]?.sensors.certificates).toEqual([
      {
        number: '',
        date: '',
        serial: '',
        capacity: { value: '500', unit: 'kg' },
        excitationMaximum: { value: '12', unit: 'V' },
        gravity: 'not-stated',
      },
    ])
    expect(points[0]).toMatchObject({ measured: {}, intended: { 'filter.time@1': '0.5', 'comm.baud': '9600' } })
    expect(points[0]?.intended).not.toHaveProperty('scale.upper.signal@1')
  })

  it('refuses more channels than the indicator has', () => {
    const { points, errors } = make({ onIndicator: { indicatorId: 'ind-1', firstChannel: 1 } })
    expect(points).toHaveLength(1)
    expect(errors).toEqual([{ row: 2, column: 'channel', why: expect.stringContaining('WT-210') }])
  })

  it.each([
    [{ tagPattern: 'WT' }, 'one run of #'],
    [{ tagPattern: '#-#' }, 'one run of #'],
    [{ tagPattern: 'WT-#', count: 2 }, 'write more #'],
    [{ pointId: 'none' }, 'no measuring point none'],
    [{ tagPattern: 'WT-1##', firstNumber: 1, count: 1 }, 'already used'],
  ])('refuses %j: %s', (change, why) => {
    expect(make(change).errors[0]?.why).toContain(why)
  })
})
