type Line = { baud: number; parity: 'none' | 'even' | 'odd'; stopBits: 1 | 2; unit: number }

/** "9600 baud, no parity, 1 stop bit, unit 1" */
export const lineText = ({ baud, parity, stopBits, unit }: Line): string =>
  `${baud} baud, ${parity === 'none' ? 'no' : parity} parity, ${stopBits} stop ${stopBits === 1 ? 'bit' : 'bits'}, unit ${unit}`

/** The same as people type it, with or without the words between; null where it is none. */
export function readLine(typed: string): Line | null {
  const read = /^(\d+)(?: ?baud)?,?\s+(none|no|even|odd)(?: parity)?,?\s+([12])(?: stop bits?)?,?\s+unit\s+(\d+)$/i.exec(typed.trim())
  if (!read) return null
  const [, baud, word = '', stopBits, unit] = read
  const parity = /^even$/i.test(word) ? 'even' : /^odd$/i.test(word) ? 'odd' : 'none'
  return { baud: Number(baud), parity, stopBits: stopBits === '2' ? 2 : 1, unit: Number(unit) }
}
