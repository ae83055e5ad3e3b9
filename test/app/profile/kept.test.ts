import { expect, it } from 'vitest'
import { keptWords, unsavedWords } from '../../../app/profile/kept.ts'

const written = ['filter.time@1', 'scale.upper.signal@2']

it('a write that needs no saving is said to be kept, never to be lost', () => {
  expect(keptWords({ saved: false, unsaved: [], written })).toBe('kept at once')
  expect(keptWords({ saved: true, unsaved: [], written })).toBe('saved')
})

it('a write of which something is lost is never called saved', () => {
  expect(keptWords({ saved: true, unsaved: ['filter.time@1'], written })).toBe('not all of it saved')
  expect(keptWords({ saved: false, unsaved: written, written })).toBe('not saved')
})

it('names what is lost, with its channel where there are several, and what to do', () => {
  expect(unsavedWords(written, 4, 'after')).toMatch(
    /^Not saved in the indicator: Filter time, channel 1, .+, channel 2\. .+ old values back;/,
  )
  expect(unsavedWords(['filter.time@1'], 1, 'before')).toMatch(
    /^Will not be saved in the indicator: Filter time\. .+ old value back; save it /,
  )
})
