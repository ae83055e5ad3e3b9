import type { Row } from './table.ts'

export type PartOptions = {
  say(text: string): void
  /** Longer, for final figures. */
  full: boolean
  /** Python with pymodbus, where there is one. */
  python: string | undefined
}

/** One part of the bench, run by its name. */
export type Part = { name: string; title: string; notes: readonly string[]; run(options: PartOptions): Promise<Row[]> }
