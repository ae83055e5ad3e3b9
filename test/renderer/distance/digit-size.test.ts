import { describe, expect, it } from 'vitest'
import { distanceGrid, emsOf, largestPx, smallestPx } from '../../../renderer/distance/digit-size.ts'

const screens = [
  { width: 1280, height: 596 },
  { width: 1920, height: 1036 },
]
const five = emsOf('−1000.0')

describe('digits to be read from afar', () => {
  it.each(screens)('one reading is as large as it is meant to be on $width × $height', (room) => {
    expect(distanceGrid(1, five, room)).toEqual({ columns: 1, digitPx: largestPx })
  })

  it.each([2, 4, 6, 9, 12])('%i readings are never too small, and fit the large screen', (count) => {
    const room = { width: 1920, height: 1036 }
    const { columns, digitPx } = distanceGrid(count, five, room)
    expect(digitPx).toBeGreaterThanOrEqual(smallestPx)
    expect(digitPx * five + 40).toBeLessThanOrEqual(room.width / columns)
    expect(digitPx * 1.05 * Math.ceil(count / columns)).toBeLessThan(room.height)
  })

  it('longer numbers make smaller digits for all', () => {
    const room = { width: 1280, height: 596 }
    expect(distanceGrid(4, emsOf('−60 000.00'), room).digitPx).toBeLessThan(distanceGrid(4, emsOf('−60.0'), room).digitPx)
  })
})
