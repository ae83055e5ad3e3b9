import { describe, expect, it } from 'vitest'
import { writeWould } from '../../../renderer/places/settings/write-would.ts'

const units = (held: string, intended: string) => ({ found: held, held, left: held, intended })
type Line = Parameters<typeof writeWould>[0]
const line: Line = { found: '0.20', held: '0.50', intended: '0.50', differs: false, kept: true, units: units('kg', 'kg') }
const would = (change: Partial<Line> = {}) => writeWould({ ...line, ...change }, (text) => `<${text}>`)
const lost = { text: 'held, but a write does not save it: a power cut may bring the old value back', attention: true }

describe('what Settings says of a write', () => {
  it('nothing is to be done where the value is held and kept', () => {
    expect(would()).toEqual({ text: 'nothing, it is held', attention: false })
    expect(would({ intended: undefined })).toBeUndefined()
  })

  it('a value that was written and not saved may be lost, intended or put back', () => {
    expect(would({ kept: false })).toEqual(lost)
    expect(would({ kept: false, intended: undefined })).toEqual(lost)
  })

  it('a value that is as it was found has outlived a power cut before: nothing is said of it', () => {
    expect(would({ kept: false, held: '0.20', intended: undefined })).toBeUndefined()
    expect(would({ kept: false, held: '0.20', intended: '0.20' })).toEqual({ text: 'nothing, it is held', attention: false })
  })

  it('before a visit nothing is known of what was found: only what is intended is warned of', () => {
    expect(would({ kept: false, found: undefined })).toEqual(lost)
    expect(would({ kept: false, found: undefined, intended: undefined })).toBeUndefined()
  })

  it('says beforehand that what would be written is not saved', () => {
    expect(would({ differs: true, held: '0.20' })).toEqual({ text: '<0.20> becomes <0.50>', attention: true })
    expect(would({ differs: true, held: '0.20', kept: false })?.text).toBe('<0.20> becomes <0.50>, which is not saved')
    expect(would({ differs: true, held: '500', units: units('kg', 't') })?.text).toBe('<500> kg becomes <0.50> t')
    expect(would({ differs: true, held: undefined })?.text).toBe('not read becomes <0.50>')
  })
})
