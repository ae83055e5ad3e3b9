import { describe, expect, it } from 'vitest'
import { checkDraft, type Draft, startDraft } from '../../../app/profile/draft.ts'
import { explainUnfit, problemPlace } from '../../../renderer/describe/problem-text.ts'

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

    expect(problemPlace('registers.0.limits.to', draft)).toBe('Filter time, limits')
    expect(problemPlace('serial.baud', draft)).toBe('Line it is delivered with')
    expect(problemPlace('commands.shunt-on.steps.0.write', draft)).toBe('Shunt on')
  })

  it('is told by its path where it stands in a file', () => {
    const failure = { kind: 'unfit', problems: [{ path: 'requests.longestRead', message: 'say 1 to 125' }] } as const

    expect(explainUnfit(failure)).toBe('requests.longestRead: say 1 to 125')
    expect(explainUnfit(failure, begun)).toBe('Longest read: say 1 to 125')
  })
})
