import { describe, expect, it } from 'vitest'
import { checkDraft, type Draft, dropFound, type Found, finishDraft, nameFound, startDraft } from '../../../app/profile/draft.ts'
import { viewRegisters } from '../../../app/profile/register-view.ts'

const start = () => startDraft({ id: 'mill-hopper', name: 'Hopper indicator', document: 'front panel', revision: '-', channels: 1 })

/** Looks at words as the viewer shows them and takes the one that agrees with the display. */
function found(name: string, address: number, words: number[], display: string, order: string, more: Partial<Found> = {}): Found {
  const shape = viewRegisters(address, words, display).find((c) => c.agrees === 'exact' && c.order === order)!
  const { text: _, agrees: __, ...place } = shape
  const common = { channel: 1, table: 'holding', access: 'read-write', role: 'setting', kept: 'at-once' } as const
  return { name, ...common, ...more, shape: place, display, words }
}
const reading = found('live.reading', 0, [0x1dc0, 0xfffe], '-1234.56', 'CDAB', { access: 'read', role: 'live', kept: 'never' })

function withAll(draft: Draft, list: Found[]): Draft {
  return list.reduce((d, f) => {
    const next = nameFound(d, f)
    if (!next.ok) throw new Error(JSON.stringify(next.failure))
    return next.value
  }, draft)
}

describe('a profile under construction', () => {
  it('keeps what was seen as evidence', () => {
    expect(withAll(start(), [reading]).registers).toEqual([
      expect.objectContaining({
        name: 'live.reading',
        address: 0,
        type: 'i32',
        order: 'CDAB',
        decimals: 2,
        evidence: 'hardware',
        why: 'Read 1DC0 FFFE (hex) while the front panel showed -1234.56.',
      }),
    ])
  })

  it('says of what can be written that no write has tried it', () => {
    const slope = withAll(start(), [found('scale.slope', 10, [0x40a0, 0x0000], '5', 'ABCD')])
    expect(slope.registers[0]?.why).toBe(
      'Read 40A0 0000 (hex) while the front panel showed 5. Access, limits and how a written value is kept are as typed; no write has tried them.',
    )
  })

  it('lists what is missing until it can be finished', () => {
    const draft = { ...withAll(start(), [reading]), scaling: { model: 'slope-intercept', evidence: 'manual', page: '12' } as const }
    expect(checkDraft(start())).toEqual([
      { path: 'live.reading', message: 'find the register that follows the display' },
      { path: 'scaling', message: 'say which scaling model the indicator has' },
    ])
    expect(finishDraft(draft)).toEqual({
      ok: false,
      failure: {
        problems: [
          { path: 'scale.slope@1', message: 'the scaling model needs it' },
          { path: 'scale.intercept@1', message: 'the scaling model needs it' },
        ],
      },
    })
    const whole = withAll(draft, [
      found('scale.slope', 10, [0x40a0, 0x0000], '5', 'ABCD', { kept: 'after-save' }),
      found('scale.intercept', 12, [0xbf00, 0x0000], '-0.5', 'ABCD'),
    ])
    expect(finishDraft(whole)).toEqual({
      ok: false,
      failure: { problems: [{ path: 'procedures.save', message: 'settings are said to be kept after saving; say how to save' }] },
    })
    const finished = finishDraft(withAll(whole, [found('scale.slope', 10, [0x40a0, 0x0000], '5', 'ABCD')]))
    expect(finished).toMatchObject({ ok: true, value: { id: 'mill-hopper', registers: { length: 3 } } })
  })

  it('takes no two meanings for the same words', () => {
    const twice = nameFound(withAll(start(), [reading]), { ...reading, name: 'live.gross', shape: { ...reading.shape, address: 1 } })
    expect(twice).toMatchObject({
      ok: false,
      failure: { problems: [{ path: 'address', message: expect.stringContaining('Reading, as displayed was found at') }] },
    })
    const dropped = dropFound(withAll(start(), [reading]), 'live.reading@1')
    expect(nameFound(dropped, { ...reading, name: 'live.gross' })).toMatchObject({ ok: true })
  })

  it('refuses what no register can be, by the value that is wrong', () => {
    const wrong = nameFound(start(), { ...reading, table: 'input', access: 'read-write' })
    expect(wrong).toMatchObject({ ok: false, failure: { problems: [{ path: 'access' }] } })
  })
})
