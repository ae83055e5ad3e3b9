import { fail, ok, type Result } from '../result.ts'
import type { DecimalText } from './decimal-text.ts'
import type { DecimalSign } from './format.ts'

export type NumberFailure =
  | { kind: 'not-a-number'; why: string }
  /** More than one reading is possible and the decimal sign does not decide. */
  | { kind: 'ambiguous-number'; why: string; readings: DecimalText[] }

const spaces = ' \u00a0\u2009\u202f'
/** Number at the head of a text; its own syntax is looked at afterwards. */
const head = new RegExp(
  `^[+\\-\u2212]?\\d*(?:[.,'\u2019${spaces}]\\d+)*[.,]?(?:[eE][+\\-\u2212]?\\d+|[${spaces}]?[\u00d7x*\u00b7][${spaces}]?10\\^?[+\\-\u2212\u207b]?[\\d\u2070\u00b9\u00b2\u00b3\u2074-\u2079]+)?`,
)

/** Splits what people type into the number and what follows it; undefined where no number stands at the head. */
export function splitNumber(text: string): { number: string; rest: string } | undefined {
  const number = head.exec(text)?.[0] ?? ''
  return /\d/.test(number) ? { number, rest: text.slice(number.length) } : undefined
}

const superscripts = '\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079'
const plainDigit = (c: string) => (c === '\u207b' || c === '\u2212' ? '-' : superscripts.includes(c) ? String(superscripts.indexOf(c)) : c)

/** Plain decimal of digits read with one sign as decimal sign and the other as group sign; undefined where that reading is impossible. */
function readWith(mantissa: string, decimalSign: DecimalSign): string | undefined {
  const groupSign = decimalSign === '.' ? ',' : '.'
  const [whole = '', fraction = '', ...more] = mantissa.split(decimalSign)
  if (more.length > 0 || fraction.includes(groupSign) || /['\u2019]/.test(fraction)) return undefined
  const separators = [...new Set(whole.replace(/\d/g, ''))]
  if (separators.length > 1) return undefined
  if (separators.length === 1 && !/^[1-9]\d{0,2}(\D\d{3})+$/.test(whole)) return undefined
  if (/\D/.test(fraction) && !/^(\d{3} )*\d{1,3}$/.test(fraction)) return undefined
  const digits = whole.replace(/\D/g, '').replace(/^0+(?=\d)/, '') || '0'
  const decimals = fraction.replace(/\D/g, '')
  return whole === '' && fraction === '' ? undefined : digits + (decimals && `.${decimals}`)
}

/** Moves the decimal point by the power of ten, keeping the digits typed. */
function shift(text: string, power: number): string {
  const [whole = '', fraction = ''] = text.split('.')
  const digits = whole + fraction
  const point = whole.length + power
  const padded = point <= 0 ? '0'.repeat(1 - point) + digits : digits.padEnd(point, '0')
  const at = Math.max(point, 1)
  const left = padded.slice(0, at).replace(/^0+(?=\d)/, '')
  const right = padded.slice(at)
  return left + (right && `.${right}`)
}

/**
 * The decimal that people mean by what they typed: either decimal sign, groups by space, point, comma or apostrophe, a real minus, an exponent.
 * Every digit typed is kept ("2,0010" is 2.0010). Where both readings are possible ("1,234" in a job that writes the point) it is refused with both;
 * in a text that holds only the job's own decimal sign, once, that sign decides.
 */
export function parseNumber(text: string, decimalSign: DecimalSign): Result<DecimalText, NumberFailure> {
  const trimmed = text.trim()
  const example = `2${decimalSign}0010`
  const parts = /^([+\-\u2212]?)(.*?)(?:[eE]([+\-\u2212]?\d+)|\s?[\u00d7x*\u00b7]\s?10\^?(\S+))?$/.exec(trimmed)
  const [, sign = '', mantissa = '', letterPower, timesPower] = parts ?? []
  const power = Number([...(letterPower ?? timesPower ?? '0')].map(plainDigit).join(''))
  const wrong: NumberFailure = {
    kind: 'not-a-number',
    why: `"${trimmed}" is not a number. Type it like ${example}; groups of three may be set apart by a space.`,
  }
  if (trimmed === '') return fail({ kind: 'not-a-number', why: `A number is needed here, like ${example}.` })
  if (!/\d/.test(mantissa) || !Number.isInteger(power)) return fail(wrong)
  if (Math.abs(power) > 30)
    return fail({ kind: 'not-a-number', why: `The exponent of "${trimmed}" is beyond anything measured here. Look at it again.` })
  const spaced = mantissa.replace(new RegExp(`[${spaces}]`, 'g'), ' ')
  const own = readWith(spaced, decimalSign)
  const other = readWith(spaced, decimalSign === '.' ? ',' : '.')
  const finish = (plain: string) => {
    const shifted = shift(plain, power)
    return sign !== '' && sign !== '+' && /[1-9]/.test(shifted) ? `-${shifted}` : shifted
  }
  const ownSignOnly = !spaced.includes(decimalSign === '.' ? ',' : '.')
  const chosen = own !== undefined && (other === undefined || own === other || ownSignOnly) ? own : own === undefined ? other : undefined
  if (chosen === undefined && own !== undefined && other !== undefined)
    return fail({
      kind: 'ambiguous-number',
      why: `"${trimmed}" can be ${finish(own)} (grouped) or ${finish(other)} (decimal). This job writes "${decimalSign}" as decimal sign: type it without the group sign, or with "${decimalSign}".`,
      readings: [finish(own), finish(other)],
    })
  if (chosen === undefined) return fail(wrong)
  const value = finish(chosen)
  return value.length > 60 ? fail({ kind: 'not-a-number', why: 'More than 60 digits: look at it again.' }) : ok(value)
}
