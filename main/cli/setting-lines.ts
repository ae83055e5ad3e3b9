import { besidesWords, writtenTags } from '../../app/contract/preview-words.ts'
import type { Difference, WriteFailure, WritePreview, WriteReceipt } from '../../app/contract/views.ts'
import { explainWriteCause } from '../../app/contract/write-cause.ts'
import { placeText } from '../../app/profile/bus-registers.ts'
import { keptWords } from '../../app/profile/kept.ts'
import { rulesFirst } from '../../app/safety-words.ts'

const column = 26

const withUnit = (value: string, unit: string | undefined) => `${value} ${unit ?? ''}`.trimEnd()

/** "0 → 1 kg"; where the two are in different units each has its own: "500 kg → 0.5 t". */
export const changeText = ({ held, intended, unit, heldUnit }: Omit<Difference, 'key'>, none = 'not read') =>
  `${held === null ? none : withUnit(held, heldUnit)} → ${withUnit(intended, unit)}`

export const differenceLine = (d: Difference) => `  ${d.key.padEnd(column)} ${changeText(d)}`

export function previewLines(preview: WritePreview): string[] {
  if (preview.writes.length === 0) return ['Nothing differs: the indicator holds what is meant.']
  const { unlocks, saves, restarts } = preview.procedure
  const steps = [
    unlocks && 'unlock',
    'write',
    'read back',
    saves && 'save',
    !saves && preview.unsaved.length === 0 && 'kept at once',
    restarts && 'restart',
    'read all again',
  ].filter(Boolean)
  return [
    'Held → intended:',
    ...preview.writes.map(differenceLine),
    ...preview.moves.map((m) => `A change of ${m.when} also moves ${m.moves.join(', ')}${m.why ? `: ${m.why}` : ''}`),
    `Steps: ${steps.join(', ')}. Written to ${writtenTags(preview) || 'no point'}. ${besidesWords(preview)}`.trimEnd(),
    ...preview.cautions,
    rulesFirst,
  ]
}

const movedLines = ({ moved }: WriteReceipt): string[] =>
  moved === undefined
    ? []
    : moved.when === 'now'
      ? [`It answers at ${placeText(moved.to)} now, no longer at ${placeText(moved.from)}.`]
      : [
          `It still answers at ${placeText(moved.from)}: switch it off and on, then it is at ${placeText(moved.to)}; the job is to say so then.`,
        ]

export const receiptLines = (receipt: WriteReceipt): string[] => [
  ...movedLines(receipt),
  `${receipt.written.length} written and read back equal, ${keptWords(receipt)}:`,
  ...receipt.written.map(differenceLine),
  ...(receipt.unsaved.length > 0
    ? [`Not saved in the indicator, a power cut brings the old values back: ${receipt.unsaved.join(', ')}`]
    : []),
  ...(receipt.alsoMoved.length > 0
    ? ['Also different afterwards, though nobody asked for it:', ...receipt.alsoMoved.map(differenceLine)]
    : []),
]

const ends = {
  restored: 'The old values were put back and read back equal.',
  'not-restored': 'The old values could not be put back. "spanwright settings resolve" ends it once the indicator answers again.',
  'nothing-written': 'Nothing was written.',
} as const

/** What was written may hold although the disk did not take what has to be kept of it. */
const endOf = ({ because, end }: Extract<WriteFailure, { kind: 'failed' }>): string =>
  end === 'not-restored' && (because.kind === 'journal-not-kept' || because.kind === 'job-not-saved')
    ? 'What the indicator holds now is listed below. "spanwright settings resolve" ends the write once there is room on the disk.'
    : ends[end]

export function writeFailureLines(failure: WriteFailure): [string, ...string[]] {
  switch (failure.kind) {
    case 'not-allowed':
      return [`Not allowed: ${failure.why}`]
    case 'changed-meanwhile':
      return ['Nothing was written: the indicator no longer holds what was shown.', ...failure.changed.map(differenceLine)]
    case 'failed': {
      return [
        `Failed while ${failure.during.replace('-', ' ')}: ${explainWriteCause(failure.because)}`,
        endOf(failure),
        ...(failure.whereabouts ? [failure.whereabouts.advice] : []),
        ...failure.parameters.map(
          (p) =>
            `  ${p.key.padEnd(column)} wanted ${p.wanted}, before ${p.before ?? 'not read'}, now ${p.now === 'unknown' ? 'unknown' : (p.now.value ?? 'no number')}`,
        ),
      ]
    }
  }
}
