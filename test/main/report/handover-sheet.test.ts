import { expect, it } from 'vitest'
import type { Indicator, Point, QuickCheck, SettingsImage } from '../../../app/job/schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { handoverSheet } from '../../../main/report/handover-sheet.ts'

function sheetWith(sealed: Indicator['sealed']): string {
  const practice = practiceJob()
  const job = { ...practice, indicators: practice.indicators.map((i) => (sealed ? { ...i, sealed } : i)) }
  const [point] = job.points
  if (!point) throw new Error('the practice job has points')
  return handoverSheet(job, point, bundledProfiles, null, { at: '2026-05-04T10:00:00Z', zone: 'Europe/Madrid' })
}
const due = 'Re-verification is due'

it('says that re-verification is due after a seal was broken, by whom and why', () => {
  const sheet = sheetWith({ seals: 'S-1', broken: { by: 'A. <Tester>', reason: 'cell 2 replaced', at: '2026-05-04T08:30:00Z' } })
  expect(sheet).toContain('S-1, broken on 2026-05-04 10:30 (UTC+02:00) by A. &lt;Tester&gt;: cell 2 replaced.')
  expect(sheet).toContain(due)
})

it('keeps the seals that were broken before it was sealed again', () => {
  const broken = { by: 'A. Tester', reason: 'cell 2 replaced', at: '2026-05-04T08:30:00Z' }
  const sheet = sheetWith({ seals: 'S-2', earlier: [{ seals: 'S-1', broken }] })
  expect(sheet).toContain('S-2, not broken')
  expect(sheet).toContain('Before: S-1, broken on 2026-05-04 10:30 (UTC+02:00) by A. Tester: cell 2 replaced.')
  expect(sheet).not.toContain(due)
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
  expect(handoverSheet(job, point, bundledProfiles, null, { at: '2026-05-04T10:00:00Z', zone: 'Europe/Madrid' })).toMatch(
    /0\.5\skg, n = 3000/,
  )
  expect(sheetWith(undefined)).not.toContain('Verification scale interval')
})

it('says how what is applied reaches the sensors, with what it was checked, and which check is missing', () => {
  const job = practiceJob()
  const sheet = (id: string, change: Partial<Point> = {}, checks: QuickCheck[] = []) => {
    const point = { ...job.points.find((p) => p.id === id)!, ...change }
    const visit = { id: 'v1', startedAt: '2026-05-04T08:00:00Z', by: 'A. Tester', found: {}, left: {}, checks }
    return handoverSheet({ ...job, visits: [visit] }, point, bundledProfiles, 'v1', {
      at: '2026-05-04T10:00:00Z',
      zone: 'Europe/Madrid',
    }).replaceAll(/<[^>]+>/g, ' ')
  }
  const parts = [
    { name: 'vessel', load: { value: '120', unit: 'kg' as const } },
    { name: 'pipe', load: { value: '40', unit: 'kg' as const }, percent: '50' },
  ]
  // by hand: 120 kg and half of 40 kg; half of the load on the cells
  const loadPath = { sharePercent: '100', shareSteps: [{ kind: 'reeving' as const, parts: 2 }], structure: parts }
  const weighed = sheet('wt-101', { loadPath })
  expect(weighed).toMatch(/Share on the sensors\s+50 %/)
  expect(weighed).toMatch(/Dead load\s+140\.00\skg/)
  expect(weighed).toContain('six-wire')
  expect(weighed).toContain('Not checked in this visit.')

  const step = (load: string) => ({ load, reading: load, origin: 'typed' as const, at: '2026-05-04T09:00:00Z', samples: [] })
  const check: QuickCheck = {
    id: 'c1',
    pointId: 'pt-301',
    when: 'as-left',
    startedAt: '2026-05-04T09:00:00Z',
    finishedAt: '2026-05-04T09:10:00Z',
    by: 'A. Tester',
    unit: 'bar',
    standards: 'gauge P-7',
    steps: [step('1.013'), step('200'), step('1.013')],
  }
  const pressed = sheet('pt-301', { loadPath: { sharePercent: '100', pressure: 'absolute' } }, [check])
  expect(pressed).toMatch(/Measures\s+absolute pressure/)
  expect(pressed).toContain('cable not stated')
  expect(pressed).toContain('Pressure standard used: gauge P-7.')
  expect(pressed).toContain('As found: not checked in this visit.')
  expect(pressed).toContain('1.013')
})

it('gives each number its own unit where the indicator was found in another one than it was left in', () => {
  const job = practiceJob()
  const point = job.points[0]!
  const profile = bundledProfiles.get(job.indicators.find((i) => i.id === point.indicatorId)!.profileId)!
  const imageOf = (unit: string, reading: string): SettingsImage => ({
    at: '2026-05-04T09:00:00Z',
    values: {
      'reading.unit@1': { words: [unit === 'kg' ? 0 : 1], value: unit },
      'scale.upper.reading@1': { words: [0, Number(reading) * 10], value: reading },
      'scale.upper.signal@1': { words: [0, 2], value: '2' },
    },
  })
  const rowsOf = (found: SettingsImage) => {
    const visit = {
      ...{ id: 'v1', startedAt: '2026-05-04T08:00:00Z', by: 'A. Tester', checks: [] },
      ...{ found: { [point.indicatorId!]: found }, left: { [point.indicatorId!]: imageOf('t', '0.4') } },
    }
    const sheet = handoverSheet({ ...job, visits: [visit] }, point, new Map([[profile.id, profile]]), 'v1', {
      at: '2026-05-04T10:00:00Z',
      zone: 'UTC',
    })
    return Object.fromEntries(
      [...sheet.matchAll(/<tr class="[^"]*"><th>([^<]*)<\/th><td>([^<]*)<\/td><td>([^<]*)<\/td><td class="unit">([^<]*)</g)].map(
        ([, name, ...cells]) => [name, cells],
      ),
    )
  }
  const changed = rowsOf(imageOf('kg', '500'))
  expect(changed['Upper pair, reading']).toEqual(['500 kg', '0.4 t', ''])
  expect(changed['Upper pair, signal']).toEqual(['2', '2', 'mV/V'])
  expect(rowsOf(imageOf('t', '0.5'))['Upper pair, reading']).toEqual(['0.5', '0.4', 't'])
})
