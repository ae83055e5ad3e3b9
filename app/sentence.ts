/** A phrase at the head of a sentence. */
export const sentence = (phrase: string): string => phrase.charAt(0).toUpperCase() + phrase.slice(1)
