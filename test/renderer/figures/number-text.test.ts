import { expect, it } from 'vitest'
import { exact, toDecimal } from '../../../app/quantity/exact.ts'
import { cellNumber } from '../../../renderer/describe/shape-text.ts'
import { fixedText, numberText, signedFixedText } from '../../../renderer/figures/number-text.ts'

// Each is half of its last decimal; most doubles of it lie below, and toFixed goes by them.
it.each(['1.99975', '1.99995', '2.00005', '0.999875', '-0.15', '-1.0005', '0.5', '1.005', '8.345'])(
  '%s is rounded on the page as everywhere else: away from nought',
  (text) => {
    const decimals = (text.split('.')[1]?.length ?? 0) - 1
    expect(fixedText(Number(text), decimals).replaceAll('\u2009', '').replace('\u2212', '-')).toBe(toDecimal(exact(text), decimals))
  },
)

it('what is not halfway is rounded as it is', () => {
  expect(fixedText(1.99974, 4)).toBe('1.9997')
  expect(signedFixedText(0.04999, 1)).toBe('0.0')
  expect(signedFixedText(0.05, 1)).toBe('+0.1')
})

// IEEE 754-2019, 3.4: single floats of the words 019c cdbc and 7f7f c99e, to four digits.
it('a power of ten keeps its sign, and so does the number', () => {
  const single = (words: number) => new DataView(Uint32Array.of(words).buffer).getFloat32(0, true)
  expect(numberText(cellNumber(String(single(0x019ccdbc))))).toBe('5.760e\u221238')
  expect(numberText(cellNumber(String(-single(0x7f7fc99e))))).toBe('\u22123.400e38')
})
