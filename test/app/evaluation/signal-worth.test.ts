import { expect, it } from 'vitest'
import { signalText } from '../../../app/evaluation/signal-worth.ts'

const ratio = (signal: string | null, noise: number | null) => signalText({ signal, signalUnit: 'mV/V' }, noise)
const millivolt = (signal: string, noise: number | null) => signalText({ signal, signalUnit: 'mV' }, noise)

it.each([
  ['no digits are added', '0.45', null, '0.45'],
  ['beyond what indicators tell apart none are shown', '0.99987793', null, '0.99988'],
  ['the last digit is that of the first digit of the noise', '0.99987793', 0.00042, '0.9999'],
  ['noise of several units leaves no decimals', '12.3456', 3, '12'],
  ['less noise than a digit takes nothing off', '0.99987793', 0.000_000_3, '0.99988'],
  ['none is no noise', '0.99987793', 0, '0.99988'],
  ['nothing is not below nothing', '-0.0000004', null, '0.00000'],
  ['what is below stays so', '-0.00251', null, '-0.00251'],
] as const)('%s', (_what, signal, noise, text) => {
  expect(ratio(signal, noise)).toBe(text)
})

it('millivolts have a decimal less, and no signal is no text', () => {
  expect(millivolt('9.8765432', null)).toBe('9.8765')
  expect(ratio(null, null)).toBeNull()
})
