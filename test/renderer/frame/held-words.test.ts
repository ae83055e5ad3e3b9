import { describe, expect, it } from 'vitest'
import { sayHeld } from '../../../renderer/frame/held-words.ts'
import { holding } from '../../builders/point-view.ts'

const differing = (...keys: string[]) => ({
  id: 'i1',
  state: { ...holding({}), differs: keys.map((key) => ({ key, held: '1', intended: '2' })) },
})
const text = (channel: number | undefined, ...keys: string[]) =>
  sayHeld([differing(...keys)], 'WT-201: ', false, channel === undefined ? undefined : { channel, sinceFound: 0 }).text

describe('what the foot says of one point that shares its indicator', () => {
  it('counts the settings of the point, and apart from them those of the others that would be written with it', () => {
    const keys = ['scale.lower.signal@1', 'scale.upper.signal@1', 'scale.upper.signal@3']
    expect(text(1, ...keys)).toBe('WT-201: 2 settings differ from what is intended, 1 of other points on its indicator')
    expect(text(2, ...keys)).toBe('WT-201: nothing differs, 3 of other points on its indicator')
    expect(sayHeld([differing(...keys)], 'WT-201: ', false, { channel: 2, sinceFound: 0 })).toMatchObject({ count: 3, differing: ['i1'] })
  })

  it('says nothing of others where there are none, and counts what is of the whole indicator', () => {
    expect(text(1, 'scale.lower.signal@1', 'reading.unit')).toBe('WT-201: 2 settings differ from what is intended')
    expect(text(undefined, 'scale.lower.signal@3')).toBe('WT-201: 1 setting differs from what is intended')
  })
})

describe('what the foot says of a point that intends nothing', () => {
  const text = (sinceFound: number | null) => sayHeld([differing()], 'WT-101: ', true, { channel: 1, sinceFound }).text

  it('that its indicator is as found only where that was looked at', () => {
    expect(text(0)).toBe('WT-101: nothing is intended yet; the indicator is as found')
    expect(text(null)).toBe('WT-101: nothing is intended yet')
  })

  it('that it keeps what was written, where what was intended was taken back', () => {
    expect(text(1)).toBe('WT-101: nothing is intended yet; 1 setting is not as found')
    expect(text(2)).toBe('WT-101: nothing is intended yet; 2 settings are not as found')
  })
})
