/** The line of one measurement: speed, ten bits to a character (8N1), and the silence that a frame needs before it. */
export type BenchLine = { baud: number; characterMs: number; silenceMs: number }

/** Silence: 3.5 characters up to 19,200 bit/s, 1.750 ms above. Source: MODBUS over Serial Line V1.02, 2.5.1.1. */
export const benchLine = (baud: number): BenchLine => {
  const characterMs = 10_000 / baud
  return { baud, characterMs, silenceMs: baud <= 19_200 ? 3.5 * characterMs : 1.75 }
}

/** What every master of the bench asks for over and over: one live block of seven input registers. */
export const registersRead = 7
export const requestLength = 8
export const answerLength = 5 + 2 * registersRead

/** Shortest time in ms from one request to the next: its characters, the slave's delay, the answer's, and the silence. */
export const limitMs = ({ characterMs, silenceMs }: BenchLine, delayMs: number): number =>
  (requestLength + answerLength) * characterMs + delayMs + silenceMs
