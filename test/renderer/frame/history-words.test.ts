import { expect, it } from 'vitest'
import { stepMadeWords } from '../../../renderer/frame/history-words.ts'

const label = 'Intended values of WT-101'

it('an undo of what was written says that the indicator keeps it', () => {
  expect(stepMadeWords('undo', { label, keeps: ['WT-101'] })).toBe(
    'Undone: Intended values of WT-101. The indicator of WT-101 keeps what was written until it is written again.',
  )
  expect(stepMadeWords('redo', { label, keeps: ['WT-101', 'WT-102'] })).toBe(
    'Done again: Intended values of WT-101. The indicators of WT-101, WT-102 keep what was written until they are written again.',
  )
})

it('an undo that no indicator is concerned by says nothing of indicators', () => {
  expect(stepMadeWords('undo', { label: 'Name of WT-101', keeps: [] })).toBe('Undone: Name of WT-101.')
})
