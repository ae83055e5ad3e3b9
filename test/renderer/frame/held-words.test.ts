import { describe, expect, it } from 'vitest'
import { sayHeld } from '../../../renderer/frame/held-words.ts'
import { holding } from '../../builders/point-view.ts'

const differing = (...keys: string[]) => ({
  id: 'i1',
  state: { ...holding({}), differs: keys.map((key) => ({ key, held: '1', intended: '2' })) },
})
const scope = { points: 1, intending: 1, indicators: 1 }
const text = (channel: number | undefined, ...keys: string[]) =>
  sayHeld([differing(...keys)], 'WT-201: ', scope, channel === undefined ? undefined : { channel, sinceFound: 0 }).text

describe('what the foot says of one point that shares its indicator', () => {
  it('counts the settings of the point, and apart from them those of the others that would be written with it', () => {
    const keys = ['scale.lower.signal@1', 'scale.upper.signal@1', 'scale.upper.signal@3']
    expect(text(1, ...keys)).toBe('WT-201: 2 settings differ from what is intended, 1 of other points on its indicator')
    expect(text(2, ...keys)).toBe('WT-201: nothing differs, 3 of other points on its indicator')
    expect(sayHeld([differing(...keys)], 'WT-201: ', scope, { channel: 2, sinceFound: 0 })).toMatchObject({ count: 3, differing: ['i1'] })
  })

  it('says nothing of others where there are none, and counts what is of the whole indicator', () => {
    expect(text(1, 'scale.lower.signal@1', 'reading.unit')).toBe('WT-201: 2 settings differ from what is intended')
    expect(text(undefined, 'scale.lower.signal@3')).toBe('WT-201: 1 setting differs from what is intended')
  })
})

describe('what the foot says of a point that intends nothing', () => {
  const text = (sinceFound: number | null) =>
    sayHeld([differing()], 'WT-101: ', { ...scope, intending: 0 }, { channel: 1, sinceFound }).text

  it('that its indicator is as found only where that was looked at', () => {
    expect(text(0)).toBe('WT-101: nothing is intended yet; the indicator is as found')
    expect(text(null)).toBe('WT-101: nothing is intended yet')
  })

  it('that it keeps what was written, where what was intended was taken back', () => {
    expect(text(1)).toBe('WT-101: nothing is intended yet; 1 setting is not as found')
    expect(text(2)).toBe('WT-101: nothing is intended yet; 2 settings are not as found')
  })
})

describe('what the foot says of points whose indicators differ in nothing', () => {
  const read = (id: string) => ({ id, state: holding({}) })
  const five = [1, 2, 3, 4, 5].map((n) => read(`i${n}`))
  const said = (states: typeof five, whose: string, points: number, intending: number, indicators = states.length) =>
    sayHeld(states, whose, { points, intending, indicators }).text

  it('is that they hold what is intended only where something is intended for each', () => {
    expect(said(five, '', 5, 5)).toBe('The indicators hold what is intended')
    expect(said(five, '', 5, 2)).toBe('What is intended is held at 2 of 5 points; nothing is intended yet for the other 3')
    expect(said(five.slice(0, 2), 'These 2: ', 2, 1)).toBe(
      'These 2: what is intended is held at 1 of 2 points; nothing is intended yet for the other',
    )
    expect(said(five, '', 5, 0)).toBe('Nothing is intended yet')
    expect(said(five.slice(0, 1), 'WT-1: ', 1, 1)).toBe('WT-1: the indicator holds what is intended')
  })

  it('is that there is no indicator only where the job has none', () => {
    expect(said([], '', 2, 0, 0)).toBe('No indicator; checks are made with typed readings')
    expect(said([], '', 0, 0, 1)).toBe('No measuring point yet')
    expect(said([], 'WT-1: ', 1, 0, 1)).toBe('WT-1: no indicator assigned yet; until then checks are made with typed readings')
    expect(said([], 'These 2: ', 2, 0, 1)).toBe('These 2: no indicator assigned yet; until then checks are made with typed readings')
  })
})
