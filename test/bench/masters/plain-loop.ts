import ModbusRTU from 'modbus-serial'
import { registersRead } from '../line.ts'
import { obey } from './obey.ts'

/** What most programs do: one read after the other, in turn, with the library's own timing. */
const [path = '', baud = '', answerMs = ''] = process.argv.slice(2)
const client = new ModbusRTU()
await client.connectRTUBuffered(path, { baudRate: Number(baud), parity: 'none' })
client.setTimeout(Number(answerMs))

await obey(async ({ units, ms }) => {
  const until = performance.now() + ms
  const counts = { answered: 0, failed: 0 }
  while (performance.now() < until) {
    for (const unit of units) {
      client.setID(unit)
      try {
        await client.readInputRegisters(0, registersRead)
        counts.answered += 1
      } catch {
        counts.failed += 1
      }
    }
  }
  return counts
})
client.close(() => {})
