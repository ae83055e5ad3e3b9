import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { panned, shortestSpan, timeTicks, windowFor, windowText, within, zoomed } from '../../../../renderer/figures/trend/trend-view.ts'

const known = { from: 0, to: 600_000 }

describe('the time that a trend shows', () => {
  it('is short while there is little to show, and never longer than asked for', () => {
    expect(windowFor(5_000, 600_000)).toBe(60_000)
    expect(windowFor(61_000, 600_000)).toBe(120_000)
    expect(windowFor(3_000_000, 600_000)).toBe(600_000)
    expect(windowFor(3_000_000, 3_600_000)).toBe(3_600_000)
    expect(windowFor(1_000, 20_000)).toBe(20_000)
  })

  it('is said as what there is until there is as much as was asked for', () => {
    expect(windowText(300_000, 600_000)).toBe('all there is so far')
    expect(windowText(600_000, 600_000)).toBe('last 10 minutes')
    expect(windowText(60_000, 60_000)).toBe('last minute')
  })

  it('is zoomed about the moment under the pointer', () => {
    expect(zoomed({ from: 100_000, to: 200_000 }, 0.5, 125_000, known)).toEqual({ from: 112_500, to: 162_500 })
    expect(zoomed({ from: 100_000, to: 200_000 }, 2, 150_000, known)).toEqual({ from: 50_000, to: 250_000 })
  })

  it('stays within what is known and wide enough to see, whatever is done to it', () => {
    const act = fc.oneof(
      fc.record({ factor: fc.double({ min: 0.001, max: 1_000, noNaN: true }), share: fc.double({ min: 0, max: 1, noNaN: true }) }),
      fc.record({ pan: fc.double({ min: -50, max: 50, noNaN: true }) }),
    )
    fc.assert(
      fc.property(fc.array(act, { maxLength: 20 }), (acts) => {
        let shown = { from: 500_000, to: 560_000 }
        for (const a of acts)
          shown = 'pan' in a ? panned(shown, a.pan, known) : zoomed(shown, a.factor, shown.from + a.share * (shown.to - shown.from), known)
        expect(shown.from).toBeGreaterThanOrEqual(known.from - 1e-6)
        expect(shown.to).toBeLessThanOrEqual(known.to + 1e-6)
        expect(shown.to - shown.from).toBeGreaterThanOrEqual(shortestSpan - 1e-6)
      }),
    )
  })

  it('ends at the newest where more is wanted than there is', () => {
    expect(within({ from: -100, to: 900 }, { from: 300, to: 500 })).toEqual({ from: -500, to: 500 })
  })

  it('has ticks at round moments of the day, few enough to be read', () => {
    const anchor = Date.parse('2026-11-25T13:59:30Z')
    expect(timeTicks({ from: 0, to: 60_000 }, anchor, 9).map((t) => new Date(anchor + t).toISOString().slice(11, 19))).toEqual([
      '13:59:30',
      '13:59:40',
      '13:59:50',
      '14:00:00',
      '14:00:10',
      '14:00:20',
      '14:00:30',
    ])
    for (const width of [700, 5_000, 60_000, 600_000, 3_600_000]) {
      const ticks = timeTicks({ from: 123, to: 123 + width }, anchor, 9)
      expect(ticks.length).toBeGreaterThan(1)
      expect(ticks.length).toBeLessThanOrEqual(10)
    }
  })
})
