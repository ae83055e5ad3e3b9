import { type DecimalSign, formatDecimal } from '../../app/quantity/format.ts'
import { useDecimalSign } from './decimal-sign.ts'

/** Value of a setting for people: decimals as print shows them, options and words as they are, null as what it is. */
export function settingText(text: string | null, sign: DecimalSign): string {
  if (text === null) return 'no number'
  return /^-?\d+(\.\d+)?$/.test(text) ? formatDecimal(text, sign) : text
}

export function useSettingText(): (text: string | null) => string {
  const sign = useDecimalSign()
  return (text) => settingText(text, sign)
}
