import { expect, it } from 'vitest'
import { localTime } from '../../../main/report/local-time.ts'

// Offsets from the IANA time zone database, as the runtime carries it; the sums are by hand.
it.each([
  ['UTC', '2026-05-04T22:30:00Z', '2026-05-04 22:30 (UTC)'],
  ['Europe/Madrid', '2026-05-04T22:30:00Z', '2026-05-05 00:30 (UTC+02:00)'],
  ['Europe/Madrid', '2026-12-31T23:05:59.900Z', '2027-01-01 00:05 (UTC+01:00)'],
  ['Asia/Kolkata', '2026-05-04T22:30:00Z', '2026-05-05 04:00 (UTC+05:30)'],
  ['America/St_Johns', '2026-01-01T01:00:00Z', '2025-12-31 21:30 (UTC−03:30)'],
])('in %s %s is %s', (zone, iso, text) => {
  expect(localTime(zone)(iso)).toBe(text)
})
