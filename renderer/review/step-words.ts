import type { IndicatorView, WriteStep } from '../../app/contract/views.ts'

const words: Record<WriteStep, string> = {
  queued: 'Queued',
  'reading-again': 'Reading again before writing',
  journalled: 'Old values kept on disk',
  unlocking: 'Unlocking',
  writing: 'Writing',
  'reading-back': 'Reading back',
  saving: 'Saving in the indicator',
  following: 'Following it to its new address',
  'reading-all': 'Reading all settings again',
  restoring: 'Putting the old values back',
  done: 'Done',
}
export const stepWords = (step: WriteStep) => words[step]

/** Where a write is now. */
export const writingWords = ({ step, done, of, says }: NonNullable<IndicatorView['writing']>) =>
  says ?? `${stepWords(step)}, ${done} of ${of}`

export const settingsCount = (n: number) => `${n} ${n === 1 ? 'setting' : 'settings'}`
