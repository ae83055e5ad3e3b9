import { expect, it } from 'vitest'
import type { Indicator } from '../../../app/job/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { handoverSheet } from '../../../main/report/handover-sheet.ts'

function sheetWith(sealed: Indicator['sealed']): string {
  const practice = practiceJob()
  const job = { ...practice, indicators: practice.indicators.map((i) => (sealed ? { ...i, sealed } : i)) }
  const [point] = job.points
  if (!point) throw new Error('the practice job has points')
  return handoverSheet(job, point, bundledProfiles, null, '2026-05-04T10:00:00Z')
}
const due = 'Re-verification is due'

it('says that re-verification is due after a seal was broken, by whom and why', () => {
  const sheet = sheetWith({ seals: 'S-1', broken: { by: 'A. <Tester>', reason: 'cell 2 replaced', at: '2026-05-04T08:30:00Z' } })
  expect(sheet).toContain('S-1, broken on 2026-05-04 08:30 UTC by A. &lt;Tester&gt;: cell 2 replaced.')
  expect(sheet).toContain(due)
})

it('does not say so where the seal holds, or there is none', () => {
  expect(sheetWith({ seals: 'S-1' })).toContain('S-1, not broken')
  expect(sheetWith({ seals: 'S-1' })).not.toContain(due)
  expect(sheetWith(undefined)).not.toContain('<h2>Seal</h2>')
})

it('names the verification scale interval and how many of them there are, only where it is stated', () => {
  const job = practiceJob()
  const point = { ...job.points[0]!, maximumLoad: '1500', scaleInterval: '0.2', verificationInterval: '0.5' }
  // by hand: 1500 kg in steps of 0.5 kg
  expect(handoverSheet(job, point, bundledProfiles, null, '2026-05-04T10:00:00Z')).toMatch(/0\.5\skg, n = 3000/)
  expect(sheetWith(undefined)).not.toContain('Verification scale interval')
})
