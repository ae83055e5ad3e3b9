import { describe, expect, it } from 'vitest'
import { stepExamples, stepsFromText, stepText } from '../../../app/profile/step-text.ts'

describe('steps of a procedure as typed', () => {
  it('are read line by line, words in decimal or hexadecimal', () => {
    expect(
      stepsFromText('write control.lock 0x5AA5 7\n\n wait 200 ms\nuntil control.busy = 0 within 3000 ms\nanswers again within 5000 ms'),
    ).toEqual({
      ok: true,
      value: [
        { write: 'control.lock', words: [23205, 7] },
        { waitMs: 200 },
        { until: 'control.busy', equals: 0, withinMs: 3000 },
        { answersAgainWithinMs: 5000 },
      ],
    })
  })

  it('are shown as they are typed', () => {
    const read = stepsFromText(stepExamples.join('\n'))
    expect(read.ok && read.value.map(stepText)).toEqual(stepExamples)
  })

  it.each([
    ['wait 200 ms\nsave it', 2],
    ['write control.save', 1],
    ['write control.save 65536', 1],
    ['wait 2 s', 1],
  ])('say the line that is none: %j', (text, line) => {
    expect(stepsFromText(text)).toMatchObject({ ok: false, failure: { line, why: expect.stringContaining('write e.g.') } })
  })
})
