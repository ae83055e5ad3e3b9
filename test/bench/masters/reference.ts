import { constants, openSync, readSync, writeSync } from 'node:fs'
import { ReadStream } from 'node:tty'
import { rtuFrame } from '../../../simulator/modbus/crc.ts'
import { answerLength, benchLine, registersRead } from '../line.ts'
import { obey } from './obey.ts'

/**
 * What this pseudo-terminal and this machine allow at the moment, as a measure for the others: blocking reads and writes with
 * nothing between them and the system. No program for work can do that: nothing else happens meanwhile, and a unit that does
 * not answer holds it for ever.
 */
const [path = '', baud = ''] = process.argv.slice(2)
const { silenceMs } = benchLine(Number(baud))
const port = openSync(path, constants.O_RDWR | constants.O_NOCTTY)
new ReadStream(port).setRawMode(true)
const blocking = openSync(path, constants.O_RDWR | constants.O_NOCTTY)
const buffer = Buffer.alloc(256)
const nobodyWakes = new Int32Array(new SharedArrayBuffer(4))

let lastByteAt = performance.now()
function ask(unit: number): void {
  const request = rtuFrame(unit, Uint8Array.of(4, 0, 0, 0, registersRead))
  const due = lastByteAt + silenceMs
  const left = due - performance.now()
  if (left > 0.4) Atomics.wait(nobodyWakes, 0, 0, left - 0.3)
  while (performance.now() < due) {
    // The last fraction of a millisecond, which no timer keeps.
  }
  writeSync(blocking, request)
  for (let got = 0; got < answerLength; ) got += readSync(blocking, buffer)
  lastByteAt = performance.now()
}

await obey(async ({ units, ms }) => {
  const until = performance.now() + ms
  let answered = 0
  while (performance.now() < until) {
    for (const unit of units) {
      ask(unit)
      answered += 1
    }
  }
  return { answered, failed: 0 }
})
process.exit(0)
