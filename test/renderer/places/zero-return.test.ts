import { expect, it } from 'vitest'
import { zeroReturnWords } from '../../../renderer/places/zero-return.ts'
import { makePoint } from '../../builders/weighing-point.ts'

it('says how far the zeros are apart and where the first one stood', () => {
  const point = makePoint()

  expect(zeroReturnWords(0, -0.2, point, '.')).toBe('Zero returned within 0.0 kg of the first zero (−0.2 kg).')
  const absolute = makePoint({ unit: 'bar', maximumLoad: '4', scaleInterval: '0.01', loadPath: { pressure: 'absolute' } })
  expect(zeroReturnWords(0.01, 1.01, absolute, '.')).toBe('Back at air pressure it read within 0.01 bar of the first time (1.01 bar).')
  expect(zeroReturnWords(-0.3, 0.1, point, ',')).toBe('Zero returned within 0,3 kg of the first zero (+0,1 kg).')
})
