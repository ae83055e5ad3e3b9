import { openBus } from '../../../main/bus/open-bus.ts'
import { registersRead } from '../line.ts'
import { obey } from './obey.ts'

/** The host's own bus: every unit has one live request waiting or on the line, as the live loop keeps it. */
const [path = '', baud = '', answerMs = ''] = process.argv.slice(2)
const opened = await openBus(
  { link: { kind: 'serial', path, format: { baud: Number(baud), parity: 'none', stopBits: 1 } } },
  { listenMs: 0 },
)
if (!opened.ok) throw new Error(JSON.stringify(opened.failure))
const bus = opened.value
/** A unit that is set aside is told so at once; the live loop then rests so long. */
const restMs = 200

await obey(async ({ units, ms }) => {
  const until = performance.now() + ms
  const counts = { answered: 0, failed: 0 }
  await Promise.all(
    units.map(async (unit) => {
      while (performance.now() < until) {
        const outcome = await bus.request(
          unit,
          { kind: 'read-registers', table: 'input', address: 0, count: registersRead },
          { priority: 'live', answerMs: Number(answerMs) },
        )
        if (outcome.ok) counts.answered += 1
        else {
          counts.failed += 1
          await new Promise((resolve) => setTimeout(resolve, restMs))
        }
      }
    }),
  )
  return counts
})
await bus.close()
