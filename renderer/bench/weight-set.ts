import { exact, exactDecimal } from '../../app/quantity/exact.ts'

/** Equal weights that together make up the maximum load: the largest of 1, 2, 5 times a power of ten that goes into it at least four times. */
export function weightSet(maximumLoad: string): { each: string; count: number } {
  const quarter = Number(maximumLoad) / 4
  if (!(quarter > 0) || !Number.isFinite(quarter)) return { each: '1', count: 10 }
  const power = Math.floor(Math.log10(quarter) + 1e-9)
  const digit = [5, 2, 1].find((d) => d * 10 ** power <= quarter * (1 + 1e-9)) ?? 1
  const each = power >= 0 ? `${digit}${'0'.repeat(power)}` : (digit * 10 ** power).toFixed(-power)
  return { each, count: Math.floor(Number(maximumLoad) / Number(each) + 1e-9) }
}

/** The load with so many more weights on, never less than nothing. */
export function withWeights(load: string, each: string, more: number): string {
  const sum = exact(load).add(exact(each).mul(more))
  return sum.compare(0) < 0 ? '0' : (exactDecimal(sum) ?? '0')
}
