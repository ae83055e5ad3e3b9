import { describe, expect, it } from 'vitest'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { addresses } from '../../../renderer/setup/bus-scan.tsx'
import { channelsFor } from '../../../renderer/setup/free-channels.ts'
import { nextNumber, patternAfter } from '../../../renderer/setup/like-another.tsx'
import { mapped } from '../../../renderer/setup/sheet-import.tsx'

const job = practiceJob()

describe('points like another', () => {
  it.each([
    ['WT-101', 'WT-1##', 3],
    ['PT-301', 'PT-3##', 2],
    ['Silo', 'Silo##', 1],
  ])('%s leads to %s from %i', (tag, pattern, first) => {
    expect(patternAfter(tag)).toBe(pattern)
    expect(nextNumber(pattern, job)).toBe(first)
  })
})

describe('columns of a sheet', () => {
  const taken = [
    { heading: 'Max', field: 'maximumLoad' as const },
    { heading: 'Limit', field: null },
  ]
  it('a heading taken for something else leaves what it was to nobody', () => {
    expect(mapped({}, taken, 'Max', 'deadLoad')).toEqual({ maximumLoad: null, deadLoad: 'Max' })
    expect(mapped({}, taken, 'Max', null)).toEqual({ maximumLoad: null })
  })
  it('a heading not read so far is read from now on', () => {
    expect(mapped({}, taken, 'Limit', 'maximumLoad')).toEqual({ maximumLoad: 'Limit' })
  })
})

describe('unit addresses as they are typed', () => {
  it.each([
    ['1-4', [1, 2, 3, 4]],
    ['1, 5, 10-12', [1, 5, 10, 11, 12]],
    ['7', [7]],
  ])('%s', (typed, units) => {
    expect(addresses(typed)).toEqual(units)
  })
  it.each(['', '4-1', '1-300', 'one', '0x10'])('"%s" is none', (typed) => {
    expect(addresses(typed)).toBeNull()
  })
})

describe('free channels', () => {
  it('those that no other point measures, its own among them', () => {
    expect(channelsFor(job).map((c) => c.value)).toEqual(['ind-3 3', 'ind-3 4'])
    expect(channelsFor(job, 'wt-202').map((c) => c.value)).toEqual(['ind-3 2', 'ind-3 3', 'ind-3 4'])
  })
})
