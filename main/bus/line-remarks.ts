import type { TappedFrame } from './request.ts'

/** What was received lately; older pieces are forgotten, so that a mended line stops being complained of. */
const remembered = 50
/** One stray byte when a machine is switched is no reason to look for a fault. */
const strayAtLeast = 3

/** Names what is odd about a line from what was received on it lately. */
export function createLineRemarks(): { received(odd: NonNullable<TappedFrame['odd']>): void; list(): string[] } {
  const lately: (readonly ('echo' | 'stray')[])[] = []
  return {
    received(odd) {
      lately.push(odd)
      if (lately.length > remembered) lately.shift()
    },
    list() {
      const echoes = lately.some((odd) => odd.includes('echo'))
      const strays = lately.filter((odd) => odd.includes('stray')).length
      return [
        ...(echoes ? ['The adapter hears what it sends (local echo). It is told apart from answers; nothing needs doing.'] : []),
        ...(strays >= strayAtLeast
          ? [
              `Stray bytes come between frames (${strays} of the last ${lately.length} pieces). Check termination, bias, screening and earthing.`,
            ]
          : []),
      ]
    },
  }
}
