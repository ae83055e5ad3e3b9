import { flushCompileCache } from 'node:module'
import { openLineHost } from './line-host.ts'
import { value } from './practice-host.ts'

/**
 * Gives one indicator another address, as a program of its own, so that a kill is a real one. Prints each step as it begins, and
 * stops dead where it has begun `step` for the `nth` time. Usage: address-mover.ts JOB FROM TO STEP NTH
 */
const [jobPath = '', from = '', to = '', step = '', nth = ''] = process.argv.slice(2)
const indicatorId = 'ind-1'

const host = openLineHost(jobPath, null)
value(await host.call('visit.start', { by: 'Mover' }))
value(await host.call('bus.open', { busId: 'bus-1' }))
const identity = value(await host.call('indicator.identify', { indicatorId }))
if (identity.outcome === 'cannot-tell') value(await host.call('indicator.vouch', { indicatorId, agrees: true }))
const preview = value(await host.call('address.preview', { indicatorId, address: Number(to) }))
if (preview.writes[0]?.held !== from) throw new Error(`it should be at ${from}: ${JSON.stringify(preview.writes)}`)
flushCompileCache()
const begun = new Map<string, number>()
host.topics.subscribe((m) => {
  const writing = m.kind === 'topic' && m.topic === 'indicator' ? (m.value as { writing: { step: string } | null }).writing : null
  if (!writing) return
  begun.set(writing.step, (begun.get(writing.step) ?? 0) + 1)
  process.stdout.write(`${writing.step} ${begun.get(writing.step)}\n`)
  // Nothing more may leave it, however late the kill comes.
  if (begun.get(step) === Number(nth)) Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0)
})
value(await host.call('settings.write', { previewId: preview.previewId }))
throw new Error(`the write ended and never came to ${step} ${nth}`)
