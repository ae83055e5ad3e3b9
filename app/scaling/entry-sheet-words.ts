import type { EntrySheetView } from '../contract/entry-sheet-calls.ts'
import { units } from '../quantity/units.ts'
import { makeSafe } from '../safety-words.ts'

/** Said with every sheet: on paper, on the screen, in the terminal. */
export const safetyWords: readonly string[] = [
  `The reading will jump. ${makeSafe} A wrong digit can trip a plant or overload a crane.`,
  'Note what stands there before you change it. Nothing else keeps the way back.',
]

export function sheetWarnings({ digitsKnown, order }: EntrySheetView): string[] {
  const compare = 'Compare with the manual of the indicator before typing.'
  if (!digitsKnown) return [`The profile does not say what this menu asks for or how many digits it takes. ${compare}`]
  return order === 'panel'
    ? []
    : [`The profile describes no menu: these are the digits of its registers, and a panel may take fewer. ${compare}`]
}

/** What the indicator should show once all is typed; numbers through `say`. */
export function expectation({ line, rounding, captures }: EntrySheetView, say: (text: string) => string): string {
  const [signal, reading] = [units[line.signalUnit].symbol, units[line.readingUnit].symbol]
  const at = captures.length > 0 ? 'Expected by the certificates' : 'With these values'
  return `${at} it shows ${say(line.lower.reading)} ${reading} at ${say(line.lower.signal)} ${signal} and ${say(line.upper.reading)} ${reading} at ${say(line.upper.signal)} ${signal}. Its digits cost ${say(rounding.units)} ${units[rounding.unit].symbol} at the maximum, ${say(rounding.intervals)} scale intervals, ${say(rounding.percent)} %.`
}
