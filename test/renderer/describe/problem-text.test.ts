import { describe, expect, it } from 'vitest'
import { draftChange } from '../../../app/contract/describe-calls.ts'
import { checkDraft, type Draft, type Found, foundRegister, nameFound, startDraft } from '../../../app/profile/draft.ts'
import { problemsIn } from '../../../app/profile/plain-words.ts'
import { explainUnfit, explainWrong, placeIn, problemPlace, registerPlace } from '../../../renderer/describe/problem-text.ts'

const begun = startDraft({ id: 'bagging-scale', name: 'Bagging scale', document: 'looked at', revision: '-', channels: 1 })
const filter: Draft['registers'][number] = {
  ...{ name: 'filter.time', table: 'holding', address: 4, type: 'u16', order: 'AB', access: 'read-write', role: 'setting' },
  ...{ kept: 'after-save', takesEffect: 'after-restart', readBack: 'exact', evidence: 'inferred' },
}

describe('what a description lacks', () => {
  it('is named as it stands on the screen', () => {
    const draft = { ...begun, registers: [filter] }

    expect(checkDraft(draft).map((p) => problemPlace(p.path, draft))).toEqual(['Reading, as displayed', 'Scaling', 'Save', 'Restart'])
  })

  it('is found by the register or the field that it lies in', () => {
    const draft = { registers: [filter], channels: 1 }

    expect(problemPlace('registers.0.limits.to', draft)).toBe('Filter time, highest it takes')
    expect(problemPlace('serial.baud', draft)).toBe('Line it is delivered with')
    expect(problemPlace('commands.shunt-on.steps.0.write', draft)).toBe('Shunt on')
  })

  it('is told by its path where it stands in a file', () => {
    const failure = { kind: 'unfit', problems: [{ path: 'requests.longestRead', message: 'say 1 to 125' }] } as const

    expect(explainUnfit(failure)).toBe('requests.longestRead: say 1 to 125')
    expect(explainUnfit(failure, placeIn(begun))).toBe('Longest read: say 1 to 125')
  })

  const found: Found = {
    ...{ name: 'filter.time', channel: 1, table: 'holding', access: 'read-write', role: 'setting', kept: 'at-once' },
    ...{ shape: { address: 4, type: 'u16', order: 'AB' }, display: '5', words: [5] },
  }
  /** What the form that names a register says, whether it sees the fault itself or the host does. */
  const said = (change: Partial<Found>) => {
    const wrong = { ...found, ...change }
    const named = nameFound(begun, wrong)
    const problems = named.ok ? [] : named.failure.problems
    return explainWrong(problemsIn(foundRegister, wrong), registerPlace) ?? explainUnfit({ kind: 'unfit', problems }, registerPlace)
  }

  it.each<[Partial<Found>, string]>([
    [{ limits: { from: '10', to: '2' } }, 'Highest it takes: not below 10'],
    [{ limits: { from: '1', to: '2'.repeat(61) } }, 'Highest it takes: at most 60 characters'],
    [{ name: 'Filter Time' }, 'Its name: lower-case words joined by dots, e.g. scale.upper.signal'],
    [{ channel: 0 }, 'Channel: at least 1'],
    [{ channel: 1.5 }, 'Channel: has to be a whole number'],
    [{ channel: 2 }, 'Channel: at most 1: the profile has no more channels'],
    [{ display: '' }, 'The display shows: is missing'],
    [{ display: '6' }, 'The display shows: 0005 (hex) read so is 5, and the display showed 6'],
    [{ options: [{ raw: 5, means: '5' }, ...[70_000].map((raw) => ({ raw, means: 'b' }))] }, 'Codes: the largest code that fits is 65535'],
    [{ options: ['5', 'b'].map((means) => ({ raw: 5, means })) }, 'Codes: code 5 has a meaning already'],
    [{ options: [5, 6].map((raw) => ({ raw, means: '5' })) }, 'Codes: 5 has a code already'],
    [{ table: 'input' }, 'Access: the input table can only be read'],
    [
      { shape: { address: 65_535, type: 'u32', order: 'ABCD' }, words: [0, 5] },
      'Address: a value of two registers starts at 65534 at the latest',
    ],
    [{ shape: { address: 4, type: 'u16', order: 'AB', decimals: 10 } }, 'Decimals: at most 9'],
  ])('of a register is told in the words of its form: %o', (change, words) => {
    expect(said(change)).toBe(words)
  })

  it('of a field of the description is told with what it takes', () => {
    const wrong = (change: object) => explainWrong(problemsIn(draftChange, change), placeIn(begun))

    expect(wrong({ requests: { ...begun.requests, longestRead: 900 } })).toBe('Longest read: at most 125')
    expect(wrong({ id: 'Bagging Scale' })).toBe('Id: lower-case words joined by hyphens')
    expect(wrong({ source: { document: '', revision: '' } })).toBe('Document: is missing')
    expect(wrong({ scaling: { model: 'pair-table', pairs: 90, evidence: 'inferred' } })).toBe('Pairs: at most 32')
    expect(wrong({ name: 'Other' })).toBeNull()
  })
})
