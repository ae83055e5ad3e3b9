import { openHostAt, value } from './practice-host.ts'

/**
 * Writes two settings of one indicator back and forth until it is killed. A program of its own, so that a kill is a real one.
 * Usage: endless-writer.ts JOB PORT
 */
const [jobPath = '', port = ''] = process.argv.slice(2)
const indicatorId = 'ind-1'
const states = [
  { 'filter.time@1': '0.50', 'reading.interval@1': '0.5' },
  { 'filter.time@1': '0.20', 'reading.interval@1': '0.2' },
]

const host = openHostAt(() => ({ host: '127.0.0.1', port: Number(port) }), jobPath, null)
value(await host.call('visit.start', { by: 'Writer' }))
value(await host.call('bus.open', { busId: 'bus-1' }))
value(await host.call('indicator.identify', { indicatorId }))
for (let turn = 0; ; turn++) {
  const values = states[turn % 2] ?? {}
  value(await host.call('point.intend', { pointId: 'wt-101', revision: host.topics.get('job')?.revision ?? 0, values }))
  const preview = value(await host.call('settings.preview', { indicatorId }))
  if (turn === 0) process.stdout.write('ready\n')
  if (preview.writes.length > 0) value(await host.call('settings.write', { previewId: preview.previewId }))
}
