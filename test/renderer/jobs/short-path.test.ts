import { expect, it } from 'vitest'
import { shortPath } from '../../../renderer/jobs/path-text.ts'

it('a path that fits is left as it is', () => expect(shortPath('/jobs/a.profile.json')).toBe('/jobs/a.profile.json'))

it('a long one loses its middle, and keeps its beginning and the file', () => {
  const short = shortPath('/home/ann/customers/north/mill 4/2026/spring/feed-mill.job/bagging-scale.profile.json', 48)
  expect(short).toHaveLength(48)
  expect(short).toMatch(/^\/home\/ann.*….*\/bagging-scale\.profile\.json$/)
})
