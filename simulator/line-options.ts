import type { SerialFormat } from '../app/profile/schema.ts'
import type { LineConditions } from './description.ts'
import { numberFrom } from './typed-values.ts'

const parities = { N: 'none', E: 'even', O: 'odd' } as const

/** Speed and character as typed, e.g. "19200,8E1". */
export const formatFrom = (text: string, what: string): SerialFormat => {
  const [, baud, letter, stop] = /^(\d+),8([NEO])([12])$/.exec(text.trim()) ?? []
  const parity = parities[letter as keyof typeof parities]
  if (baud === undefined || parity === undefined) throw new Error(`${what} is a speed and a character such as 19200,8E1, not ${text}`)
  return { baud: Number(baud), parity, stopBits: stop === '2' ? 2 : 1 }
}

/** Bytes as typed, e.g. "0,0xff". */
const bytesFrom = (text: string, what: string): number[] =>
  text.split(',').map((one) => {
    const value = numberFrom(one, what)
    if (!Number.isInteger(value) || value < 0 || value > 255) throw new Error(`${what}: a byte is 0 to 255, not ${one}`)
    return value
  })

type LineOptions = {
  echo?: boolean | undefined
  'line-noise'?: string | undefined
  'other-master'?: string | undefined
  'master-format'?: string | undefined
}

/** Conditions of the line from the command line. Throws an Error that says which option is wrong. */
export const lineFrom = (given: LineOptions): LineConditions => {
  const [unit, everyMs] = given['other-master']?.split(',') ?? []
  return {
    ...(given.echo && { echo: true }),
    ...(given['line-noise'] !== undefined && { noise: { bytes: bytesFrom(given['line-noise'], '--line-noise'), afterMs: 5 } }),
    ...(given['other-master'] !== undefined && {
      otherMaster: { unit: numberFrom(unit, '--other-master UNIT,MS'), everyMs: numberFrom(everyMs, '--other-master UNIT,MS') },
    }),
    ...(given['master-format'] !== undefined && { masterFormat: formatFrom(given['master-format'], '--master-format') }),
  }
}
