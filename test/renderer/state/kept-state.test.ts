import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { keptState, oneOf } from '../../../renderer/state/kept-state.ts'
import { readChoice } from '../../../renderer/table/choice.ts'

const panels = oneOf('bench', 'job')
let kept: Map<string, string>

beforeEach(() => {
  kept = new Map()
  vi.stubGlobal('sessionStorage', {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, text: string) => kept.set(key, text),
  })
})
afterEach(() => vi.unstubAllGlobals())

describe('state that a reload comes back to', () => {
  it('is there again in a page loaded anew', () => {
    keptState<string | null>('panel', null, panels).set('bench')
    expect(keptState<string | null>('panel', null, panels).get()).toBe('bench')
  })

  it.each(['"trend"', '{}', 'no JSON'])('begins anew where %s is found', (text) => {
    kept.set('kept-panel', text)
    expect(keptState<string | null>('panel', null, panels).get()).toBeNull()
  })

  it('lasts until the reload in a browser that keeps nothing', () => {
    vi.stubGlobal('sessionStorage', undefined)
    const panel = keptState<string | null>('panel', null, panels)
    panel.set('job')
    expect(panel.get()).toBe('job')
  })

  it('keeps the points that are chosen, and takes no others for them', () => {
    expect(readChoice({ ids: ['a', 'b'], from: 'a' })).toEqual({ ids: ['a', 'b'], from: 'b', before: ['a', 'b'] })
    expect(readChoice({ ids: [1] })).toBeUndefined()
    expect(readChoice(null)).toBeUndefined()
  })
})
