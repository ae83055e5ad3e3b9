/** Mixes a 32-bit number so that neighbouring inputs give unrelated outputs. */
const mix = (value: number): number => {
  let h = value | 0
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return (h ^ (h >>> 16)) >>> 0
}

/** A seed of its own for each part of the bench, from the bench's seed and a name. */
export const seedFor = (seed: number, name: string): number => [...name].reduce((h, letter) => mix(h ^ letter.charCodeAt(0)), mix(seed))

/**
 * Standard normal number that belongs to sample `index`: the same for the same seed, however often and in whatever order asked.
 * Box-Muller transform of two uniform numbers.
 */
export const gaussianAt = (seed: number, index: number): number => {
  const first = mix(seed ^ mix(2 * index + 1))
  const second = mix(first ^ mix(2 * index + 2) ^ seed)
  const radius = Math.sqrt(-2 * Math.log((first + 1) / 0x1_0000_0000))
  return radius * Math.cos((2 * Math.PI * second) / 0x1_0000_0000)
}
