import { describe, expect, it } from 'vitest'
import type { Point } from '../../../app/job/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { entrySheet, isSetAtPanel } from '../../../app/scaling/entry-sheet.ts'
import { sheetWarnings } from '../../../app/scaling/entry-sheet-words.ts'
import { panelJob } from '../../builders/panel-job.ts'

const job = panelJob()
function sheetOf(tag: string, change: Partial<Point> = {}) {
  const point = job.points.find((p) => p.tag === tag)
  const indicator = job.indicators.find((i) => i.id === point?.indicatorId)
  const profile = bundledProfiles.get(indicator?.profileId ?? '')
  if (!point || !indicator || !profile) throw new Error(`no ${tag}`)
  return entrySheet({ ...point, ...change }, indicator, profile)
}
function made(tag: string, change: Partial<Point> = {}) {
  const sheet = sheetOf(tag, change)
  if (!sheet.ok) throw new Error(sheet.failure)
  return sheet.value
}

it('knows which profiles are set at the panel only', () => {
  const atPanel = [...bundledProfiles.values()].filter(isSetAtPanel).map((p) => p.id)
  expect(atPanel.sort()).toEqual(['front-panel-only', 'reading-alone-on-the-bus'])
})

describe('the sheet of an indicator that is set at its front panel', () => {
  // by hand: see the builder
  it('follows its menu, in its digits, and leaves alone what the job does not decide', () => {
    const sheet = made('WT-401')
    expect(sheet).toMatchObject({ order: 'panel', digitsKnown: true, from: 'computed' })
    expect(sheet.lines.map((l) => [l.label, l.words, l.type, l.unit])).toEqual([
      ['1.1', 'Unit of the reading', 'kg', undefined],
      ['1.2', 'Decimals of the reading', '0', undefined],
      ['1.3', 'Scale interval', '1', undefined],
      ['2.1', 'Lower pair, signal', '0.200', 'mV/V'],
      ['2.2', 'Lower pair, reading', '0', 'kg'],
      ['2.3', 'Upper pair, signal', '2.200', 'mV/V'],
      ['2.4', 'Upper pair, reading', '500', 'kg'],
      ['3.1', 'Filter time', null, 's'],
    ])
    expect(sheetWarnings(sheet)).toEqual([])
  })

  it('takes over what the job intends beside the scaling', () => {
    expect(made('WT-401', { intended: { 'filter.time@1': '1.5' } }).lines.at(-1)?.type).toBe('1.5')
  })

  it('says what its digits cost', () => {
    const { certificates, trimmed } = job.points.find((p) => p.tag === 'WT-401')?.sensors ?? { certificates: [], trimmed: false }
    const uneven = certificates.map((c) => ({ ...c, ratedOutput: { value: '2.0015', unit: 'mV/V' as const } }))
    const sheet = made('WT-401', { sensors: { certificates: uneven, trimmed } })
    // zero at 50 kg of 500: 0.20015 -> 0.200; span 2.0015, upper 0.200 + 2.0015 = 2.2015 -> 2.202 (halves away); 500 x 2.0015/2.002 - 500 = -0.125 kg
    expect(sheet.lines.find((l) => l.label === '2.3')?.type).toBe('2.202')
    expect(sheet.rounding).toEqual({ units: '-0.12', intervals: '-0.12', percent: '-0.0250', unit: 'kg' })
  })

  it('is not made where the indicator measures in another kind of unit, and says what to correct', () => {
    const sheet = sheetOf('FT-501')
    expect(!sheet.ok && sheet.failure).toMatch(/kN.*kg.*Correct one of the two/)
  })
})

describe('the sheet of an indicator that is set over the bus', () => {
  it('lists the settings in the order of its registers and says that a panel may take fewer digits', () => {
    const sheet = made('WT-101')
    expect(sheet.order).toBe('settings')
    expect(sheet.lines.every((l) => l.label === null && l.type !== null)).toBe(true)
    expect(sheetWarnings(sheet)[0]).toContain('a panel may take fewer')
  })

  it('gives what the job intends, and warns where certificates lead elsewhere by now', () => {
    const computed = made('WT-101')
    const intended = Object.fromEntries(computed.lines.flatMap((l) => (l.type === null ? [] : [[l.key, l.type]])))
    expect(made('WT-101', { intended })).toMatchObject({ from: 'intended', lines: computed.lines, warnings: computed.warnings })
    const typo = made('WT-101', { intended: { ...intended, 'scale.upper.signal@1': '1.6' } })
    expect(typo.lines.find((l) => l.key === 'scale.upper.signal@1')?.type).toBe('1.6')
    expect(typo.warnings[0]).toContain('Settle which of the two is meant before typing')
  })
})
