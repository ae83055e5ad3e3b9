/** The same seal numbers, whatever their order and what stands between them. */
export const sameSeals = (one: string, other: string): boolean => sorted(one) === sorted(other)

const sorted = (numbers: string) =>
  numbers
    .split(/[\s,;]+/)
    .filter((n) => n !== '')
    .toSorted()
    .join(' ')
