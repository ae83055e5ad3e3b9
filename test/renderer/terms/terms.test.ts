import { globSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { terms } from '../../../renderer/terms/terms.ts'

const page = globSync('renderer/**/*.{ts,tsx}')
  .filter((path) => !path.endsWith('terms/terms.ts'))
  .map((path) => readFileSync(path, 'utf8'))
  .join('\n')

/** What `of` and `term` name, as an attribute, in an expression or as a property. */
const named = [...page.matchAll(/\b(?:of|term)(?:="([^"]+)"|=\{([^}]+)\}|: ('[^']+'))/g)].flatMap(([, attribute, ...others]) =>
  attribute ? [attribute] : others.flatMap((text) => [...(text ?? '').matchAll(/'([^']+)'/g)].map(([, name]) => name ?? '')),
)

describe('the terms of the trade', () => {
  it('are all shown somewhere on the page', () => {
    expect(Object.keys(terms).filter((name) => !named.includes(name))).toEqual([])
  })

  it.each(Object.entries(terms))('%s is told in one short sentence of other words', (name, sentence) => {
    expect(sentence).toMatch(/^[A-Z0-9].*[^.]\.$/)
    expect(sentence.slice(0, -1)).not.toMatch(/[.!?] /)
    expect(sentence.length).toBeLessThanOrEqual(130)
    expect(sentence.toLowerCase().startsWith(`${name} `)).toBe(false)
  })
})
