import { describe, expect, it } from 'vitest'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { chainCells, needsAttention } from '../../../renderer/chain/chain-cells.ts'
import { asIntendedWords } from '../../../renderer/places/scaling/as-intended.ts'
import type { PointView } from '../../../renderer/state/point-view.ts'
import { heldImage } from '../../builders/held-image.ts'
import { holding, makeView } from '../../builders/point-view.ts'
import { makeCertificate, makePoint, makeProfile, mvPerV } from '../../builders/weighing-point.ts'

const counts = bundledProfiles.get('counts-millivolt-input')!
const fitting = {
  'input.range@1': '40 mV',
  'reading.unit@1': 'kg',
  'scale.lower.counts@1': '0',
  'scale.lower.reading@1': '0',
  'scale.upper.counts@1': '2097152',
  'scale.upper.reading@1': '500',
}

// by hand: 2 mV/V at 5 V are 10 mV at 500 kg, a quarter of the 8 388 607 counts of a range of 40 mV, half of those of 20 mV
function viewOf(intended: Record<string, string>, values: Record<string, string> = fitting, profile = counts): PointView {
  const point = makePoint({ indicatorId: 'i1', intended, measured: { excitation: { value: '5', unit: 'V' } } }, [
    makeCertificate({ ratedOutput: mvPerV('2') }),
  ])
  const { job } = makeView({})
  const differs = Object.entries(intended).map(([key, value]) => ({ key, held: values[key] ?? null, intended: value }))
  return makeView({
    job: { ...job, decimalSign: '.', points: [point] },
    point,
    indicator: { id: 'i1', name: 'Unit', busId: 'b1', unit: 1, profileId: profile.id },
    profile,
    state: { ...holding({}), held: heldImage(profile, values), differs },
  })
}
const phrases = (view: PointView) => needsAttention(view).map(({ phrase }) => phrase)

describe('a scaling that would not fit settings that are only intended', () => {
  it('is in doubt in the chain before anything is written, though what is held fits', () => {
    const view = viewOf({ 'input.range@1': '20 mV' })
    expect(chainCells.scaling(view)).toMatchObject({ tone: 'attention', most: 'as intended −50.00 % off' })
    expect(phrases(view)).toEqual(['intended scaling −50.00 % off', '1 setting differs'])
    expect(chainCells.scaling(viewOf({ 'reading.unit@1': 'bar' }))).toMatchObject({ tone: 'attention', most: 'as intended in bar' })
  })

  it('stands beside the doubt of what is held', () => {
    const view = viewOf({ 'input.range@1': '20 mV' }, { ...fitting, 'scale.upper.counts@1': '1048576' })
    expect(chainCells.scaling(view).detail).toBe('−50.00 % off · as intended −75.00 % off')
    expect(phrases(view)).toEqual(['scaling −50.00 % off', '1 setting differs'])
  })

  it('is told of what is held alone where what is intended would leave it as wrong as it is', () => {
    const pairs = { 'scale.lower.signal@1': '0', 'scale.lower.reading@1': '0', 'scale.upper.signal@1': '1', 'scale.upper.reading@1': '500' }
    const values = { ...pairs, 'reading.unit@1': 'kg', 'input.range@1': '1 mV/V' }
    const view = viewOf({ 'input.range@1': '2 mV/V' }, values, makeProfile())
    expect(chainCells.scaling(view).detail).toBe('−50.00 % off the certificate')
    expect(asIntendedWords(view, {})).toBeUndefined()
  })

  it('is not in doubt where intended scaling and range go together', () => {
    const view = viewOf({ 'input.range@1': '20 mV', 'scale.upper.counts@1': '4194304' })
    expect(chainCells.scaling(view)).toMatchObject({ tone: 'plain', detail: '0.00 % off the certificate' })
    expect(asIntendedWords(view, {})).toBeUndefined()
  })

  it('counts what other points intend for the whole indicator', () => {
    const view = viewOf({})
    const other = { ...view.point, id: 'p2', channel: 2, intended: { 'input.range@1': '20 mV' } }
    const whole = { ...counts, registers: counts.registers.map((r) => (r.name === 'input.range' ? { ...r, channel: undefined } : r)) }
    const shared = (intended: Record<string, string>) => ({
      ...view,
      profile: whole,
      state: { ...view.state!, held: heldImage(whole, { ...rest, 'input.range': '40 mV' }) },
      job: { ...view.job, points: [view.point, { ...other, intended }] },
    })
    const { 'input.range@1': _, ...rest } = fitting
    expect(chainCells.scaling(shared({ 'input.range': '20 mV' })).most).toBe('as intended −50.00 % off')
    expect(chainCells.scaling(shared({ 'filter.cutoff@2': '5 Hz' })).tone).toBe('plain')
  })
})

describe('what the Scaling place says of it', () => {
  it('names the settings and what they would make of it', () => {
    expect(asIntendedWords(viewOf({ 'input.range@1': '20 mV', 'filter.cutoff@1': '5 Hz' }), {})).toEqual({
      implies: 'As intended (input range 20 mV): the scaling would imply 1.0000 mV/V at capacity, against 2.0000 mV/V certified, −50.00 %.',
      todo: 'Work it out for this input range, excitation and unit, or keep what is held.',
    })
    expect(asIntendedWords(viewOf({ 'input.range@1': '20 mV', 'scale.upper.counts@1': '2000000' }), {})?.implies).toMatch(
      /^As intended \(input range 20 mV, scaling values\): /,
    )
    expect(asIntendedWords(viewOf({ 'reading.unit@1': 'bar' }), {})?.implies).toBe(
      'As intended (unit of the reading bar): the indicator would show bar, the measuring point is in kg.',
    )
  })

  it('says what the excitation is taken as where signals are held in mV, and what to do first', () => {
    const inMillivolts = makeProfile({
      input: { ratiometric: false, signalUnit: 'mV' },
      registers: (r) => (/^scale\..*\.signal$/.test(r.name) ? { unit: 'mV', limits: { from: '-35', to: '35' } } : {}),
    })
    const pairs = {
      'scale.lower.signal@1': '0',
      'scale.lower.reading@1': '0',
      'scale.upper.signal@1': '10',
      'scale.upper.reading@1': '500',
    }
    const values = { ...pairs, 'reading.unit@1': 'kg', 'excitation.voltage@1': '5 V' }
    expect(asIntendedWords(viewOf({ 'excitation.voltage@1': '2.5 V' }, values, inMillivolts), {})).toEqual({
      implies: 'As intended (excitation 2.5 V): the scaling would imply 4.0000 mV/V at capacity, against 2.0000 mV/V certified, +100.00 %.',
      todo: 'The 5 V of excitation measured are taken as 2.5 V, in proportion: write the excitation, measure it again, then work the scaling out.',
    })
  })

  it('points to the values on offer where they fit, and says what else they would change', () => {
    const view = viewOf({ 'input.range@1': '20 mV' })
    expect(asIntendedWords(view, { 'input.range@1': '20 mV', 'scale.upper.counts@1': '4194304' })?.todo).toBe(
      'The values below fit: put them into intended values.',
    )
    expect(asIntendedWords(view, { 'input.range@1': '40 mV', 'scale.upper.counts@1': '2097152' })?.todo).toBe(
      'The values below fit, with input range 40 mV instead: put them into intended values.',
    )
    expect(asIntendedWords(view, { 'input.range@1': '80 mV' })?.todo).toMatch(/^Work it out/)
  })
})
