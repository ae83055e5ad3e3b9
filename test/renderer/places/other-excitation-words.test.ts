import { expect, it } from 'vitest'
import { otherExcitationWords, takenAtOtherWords } from '../../../renderer/places/scaling/other-excitation-words.ts'
import { heldImage } from '../../builders/held-image.ts'
import { holding, makeView } from '../../builders/point-view.ts'
import { kilograms, makePoint, makeProfile } from '../../builders/weighing-point.ts'

const profile = makeProfile({ input: { ratiometric: false, signalUnit: 'mV' } })
const words = (measured: object, held: string, intended = {}, say = otherExcitationWords) => {
  const point = makePoint({ indicatorId: 'i1', intended, measured: { excitation: { value: '4.98', unit: 'V' }, ...measured } })
  return say(
    makeView({
      job: { ...makeView({}).job, decimalSign: ',', points: [point] },
      point,
      profile,
      state: { ...holding({}), held: heldImage(profile, { 'excitation.voltage@1': held }) },
    }),
  )
}
const mV = (value: string) => ({ value, unit: 'mV' })
const taken = { loads: [{ load: kilograms('0'), signal: mV('0.1') }], zeroSignal: mV('0.1') }

it('says which signals, reckoned with what, and by how much they would change', () => {
  expect(words(taken, '10 V')).toBe(
    'Signals in mV taken here (1 under known loads, zero) are reckoned with 4,98 V of excitation, as measured. The indicator gives 10 V, which makes every signal 2,01 times as large. Measure the excitation again, then take the signals again.',
  )
  expect(words({}, '10 V')).toMatch(
    /^The scaling in mV is reckoned with .* Measure the excitation again, then work the scaling out again\.$/,
  )
})

it('says it before another excitation is written', () => {
  expect(words(taken, '5 V', { 'excitation.voltage@1': '10 V' })).toMatch(
    /10 V is intended, which will make every signal 2,01 times as large\. Once it is written, measure/,
  )
  expect(words(taken, '5 V')).toBeUndefined()
})

it('says what was taken at another excitation, and that it is carried over', () => {
  const zero = { zeroSignal: mV('0.1'), zeroExcitation: { value: '4.98', unit: 'V' } }
  expect(words({ ...zero, excitation: { value: '9.97', unit: 'V' } }, '10 V', {}, takenAtOtherWords)).toBe(
    'Signals in mV were taken at another excitation (zero at 4,98 V); now it is 9,97 V. They are carried over in proportion, which leaves out what the input itself adds. Take them again.',
  )
  expect(words(zero, '5 V', {}, takenAtOtherWords)).toBeUndefined()
})
