import { describe, expect, it } from 'vitest'
import { exact } from '../../../app/quantity/exact.ts'
import { decimalsWorth, formatDecimal, formatExact, formatQuantity, plusMinus } from '../../../app/quantity/format.ts'

describe('numbers as printed', () => {
  // NIST SP 811 (2008) 10.5.3, its examples quoted from memory (regression check): 76 483 522, 43 279.168 29, 8012, 0.491 722 3, 0.5947
  it.each([
    ['76483522', '76\u2009483\u2009522'],
    ['43279.16829', '43\u2009279.168\u200929'],
    ['8012', '8012'],
    ['0.4917223', '0.491\u2009722\u20093'],
    ['0.5947', '0.5947'],
  ])('%s is grouped as the guide prints it', (text, printed) => {
    expect(formatDecimal(text, '.')).toBe(printed)
  })

  it('uses the decimal sign asked for and a real minus, and adds or drops no digit', () => {
    expect(formatDecimal('-12000.50', ',')).toBe('\u221212\u2009000,50')
    expect(formatDecimal('2.0010', ',')).toBe('2,0010')
  })

  it('never lets a line end between plus-minus and its number', () => {
    expect(plusMinus('0.5')).toBe('±\u00a00.5')
  })

  it('sets the unit after a no-break space', () => {
    expect(formatQuantity('500.0', 'kg', '.')).toBe('500.0\u00a0kg')
    expect(formatQuantity('3', 'degC', '.')).toBe('3\u00a0\u00b0C')
    expect(formatQuantity('5', '%', '.')).toBe('5\u00a0%')
  })

  it('fixes decimals, and signs what is above nought where asked', () => {
    expect(formatExact(exact('0.125'), 2, '.', true)).toBe('+0.13')
    expect(formatExact(exact('-0.125'), 2, ',')).toBe('\u22120,13')
    expect(formatExact(exact('0.001'), 2, '.', true)).toBe('0.00')
  })

  it.each([
    ['0.05', 2],
    ['0.5', 1],
    ['20', 0],
    ['1', 0],
    ['0.25', 2],
    ['2.5', 1],
    ['1/3', 1],
  ])('a resolution of %s is worth %i decimals', (resolution, decimals) => {
    expect(decimalsWorth(exact(resolution))).toBe(decimals)
  })
})
