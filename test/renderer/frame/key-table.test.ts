import { globSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type KeyName, type KeyRow, keyTable, pressed } from '../../../renderer/frame/key-table.ts'

const files = globSync('renderer/**/*.{ts,tsx}')
  .filter((path) => !path.endsWith('key-table.ts'))
  .map((path) => ({ path, text: readFileSync(path, 'utf8') }))
const rows: [string, KeyRow][] = Object.entries(keyTable)
const key = (name: string, held: Partial<Record<'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey', boolean>> = {}) => ({
  key: name,
  ctrlKey: false,
  metaKey: false,
  shiftKey: false,
  altKey: false,
  ...held,
})

describe('the key sheet', () => {
  it('has every key that is obeyed: a part that listens to keys asks the table, and compares no key itself', () => {
    const listening = files.filter(({ text }) => /KeyboardEvent|onKeyDown=\{\(event\) => (?!onTableKey)/.test(text))
    expect(listening.length).toBeGreaterThan(8)
    expect(listening.filter(({ text }) => !text.includes('pressed(event')).map(({ path }) => path)).toEqual([])
    expect(files.filter(({ text }) => /\.key\s*[!=]==?\s*'/.test(text)).map(({ path }) => path)).toEqual([])
  })

  it('shows no key that nobody obeys', () => {
    const all = files.map(({ text }) => text).join('\n')
    const idle = rows.filter(([name, row]) => !row.native && !new RegExp(`'${name}'|\\b${name}: \\(`).test(all))
    expect(idle.map(([name]) => name)).toEqual([])
  })

  it('tells each row of a part by another text', () => {
    const told = rows.map(([, { where, shown }]) => `${where} ${shown}`)
    expect(new Set(told).size).toBe(told.length)
  })
})

describe('a key', () => {
  it.each<[KeyName, ReturnType<typeof key>, boolean]>([
    ['find', key('k', { ctrlKey: true }), true],
    ['find', key('k', { metaKey: true }), true],
    ['find', key('K', { metaKey: true }), true],
    ['find', key('k'), false],
    ['undo', key('z', { metaKey: true }), true],
    ['redo', key('Z', { metaKey: true, shiftKey: true }), true],
    ['undo', key('z', { ctrlKey: true, shiftKey: true }), false],
    ['stop', key('Escape', { shiftKey: true }), true],
    ['back', key('Escape', { shiftKey: true }), false],
    ['move', key('ArrowDown', { ctrlKey: true }), false],
    ['zoomIn', key('+', { shiftKey: true }), true],
  ])('%s by %o: %s', (name, event, is) => {
    expect(pressed(event, name)).toBe(is)
  })
})
