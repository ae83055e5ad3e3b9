import type { SerialFormat } from '../../app/profile/schema.ts'

/** The usual ones first (common practice, no source). */
export const usualBauds = [19_200, 9_600, 38_400, 115_200, 57_600, 4_800, 2_400, 1_200]
export const usualShapes: readonly Omit<SerialFormat, 'baud'>[] = [
  { parity: 'even', stopBits: 1 },
  { parity: 'none', stopBits: 1 },
  { parity: 'none', stopBits: 2 },
  { parity: 'odd', stopBits: 1 },
]

export const usualFormats = (): SerialFormat[] => usualBauds.flatMap((baud) => usualShapes.map((shape) => ({ baud, ...shape })))
