/** However fast a line is, an answer that is waited for in vain and asked for again takes about as long. Common practice, no source. */
const leastEveryMs = 500
/** Before two readings have come. */
const unknownEveryMs = 1_000
const rememberedGaps = 5

export type PollRate = {
  answered(atMs: number): void
  /** Polls that are missing since the last reading, at the rate at which readings came; none where the next is not yet due. */
  missed(ageMs: number): number
}

/** At which rate the readings of one indicator come: what its line, shared with others, can give. One long silence does not count. */
export function createPollRate(): PollRate {
  const gaps: number[] = []
  let lastAt: number | undefined
  return {
    answered(atMs) {
      if (lastAt !== undefined) gaps.push(atMs - lastAt)
      if (gaps.length > rememberedGaps) gaps.shift()
      lastAt = atMs
    },
    missed(ageMs) {
      const usual = [...gaps].sort((a, b) => a - b)[Math.floor((gaps.length - 1) / 2)] ?? unknownEveryMs
      return Math.floor(ageMs / Math.max(leastEveryMs, usual))
    },
  }
}
