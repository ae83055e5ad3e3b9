import { readFileSync } from 'node:fs'
import { flushCompileCache } from 'node:module'
import { readProfile } from '../../app/profile/read-profile.ts'
import { openLeanHost } from './lean-host.ts'

/**
 * Writes two settings of one indicator back and forth until it is killed. A program of its own, so that a kill is a real one.
 * Says `next` before each write. Usage: endless-writer.ts JOB PROFILE
 */
const [jobPath = '', profilePath = ''] = process.argv.slice(2)
const indicatorId = 'ind-1'
const states = [
  { 'filter.time@1': '0.50', 'reading.interval@1': '0.5' },
  { 'filter.time@1': '0.20', 'reading.interval@1': '0.2' },
]

const profile = readProfile(JSON.parse(readFileSync(profilePath, 'utf8')))
if (!profile.ok) throw new Error(JSON.stringify(profile.failure))
const host = openLeanHost(jobPath, profile.value)
await done(host.call('visit.start', { by: 'Writer' }))
await done(host.call('bus.open', { busId: 'bus-1' }))
await done(host.call('indicator.identify', { indicatorId }))
flushCompileCache()
for (let turn = 0; ; turn++) {
  const values = states[turn % 2] ?? {}
  await done(host.call('point.intend', { pointId: 'wt-101', revision: host.topics.get('job')?.revision ?? 0, values }))
  const preview = await done(host.call('settings.preview', { indicatorId }))
  if (preview.writes.length === 0) continue
  process.stdout.write('next\n')
  await done(host.call('settings.write', { previewId: preview.previewId }))
}

async function done<T, F>(call: Promise<{ ok: true; value: T } | { ok: false; failure: F }>): Promise<T> {
  const result = await call
  if (!result.ok) throw new Error(JSON.stringify(result.failure))
  return result.value
}
