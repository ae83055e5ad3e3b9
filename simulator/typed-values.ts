/** A number as typed; throws an Error that says what was wrong with it. */
export const numberFrom = (text: string | undefined, what: string): number => {
  const value = Number(text)
  if (text === undefined || text.trim() === '' || !Number.isFinite(value))
    throw new Error(`${what} is not a number: ${text ?? '(missing)'}`)
  return value
}

/** Words as typed, e.g. "16384,0x0831". */
export const wordsFrom = (text: string, what: string): number[] =>
  text.split(',').map((word) => {
    const value = numberFrom(word, what)
    if (!Number.isInteger(value) || value < 0 || value > 0xffff) throw new Error(`${what}: a word is 0 to 65535, not ${word}`)
    return value
  })
