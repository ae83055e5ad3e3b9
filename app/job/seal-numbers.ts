const numbersIn = (text: string) => text.split(/[\s,;]+/).filter((n) => n !== '')

/** The same seal numbers, whatever their order and what stands between them. */
export const sameSeals = (one: string, other: string): boolean =>
  numbersIn(one).toSorted().join(' ') === numbersIn(other).toSorted().join(' ')

/** Why a text gives no seal numbers; null where it does: one or more, each once, parted by spaces, commas or semicolons. */
export function sealNumbersWrong(text: string): string | null {
  const numbers = numbersIn(text)
  if (numbers.length === 0) return 'No seal number stands there. Write them as they stand on the indicator, e.g. S-1, S-2.'
  const twice = numbers.find((n, i) => numbers.indexOf(n) < i)
  return twice === undefined ? null : `Seal number ${twice} stands there twice; give each once.`
}
