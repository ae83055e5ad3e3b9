import { existsSync } from 'node:fs'
import { SerialPort } from 'serialport'
import type { SerialFormat } from '../../app/profile/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { ByteStream, OpenStream } from './byte-stream.ts'
import { descriptorOf } from './port-descriptor.ts'

/** An adapter pulled out while nothing is sent makes no sound: its path is looked for this often, in ms. */
const lookEveryMs = 1_000

/**
 * Opens a serial port for this program alone. DTR is raised, since some adapters are powered by it. RTS is lowered, since on
 * adapters that take their direction from it a raised RTS would hold the line and silence everybody. Common practice, no source.
 */
export const serialStream =
  (path: string, format: SerialFormat): OpenStream =>
  () =>
    new Promise((resolve) => {
      const port = new SerialPort({
        path,
        baudRate: format.baud,
        dataBits: 8,
        parity: format.parity,
        stopBits: format.stopBits,
        autoOpen: false,
        lock: true,
      })
      port.open((problem) => {
        if (problem) {
          resolve(fail(explainOpening(path, problem)))
          return
        }
        // A pseudo-terminal has no modem lines; that is no reason not to use it.
        port.set({ dtr: true, rts: false }, () => resolve(wrap(path, port)))
      })
    })

function wrap(path: string, port: SerialPort): Result<ByteStream, string> {
  const descriptor = descriptorOf(port)
  let asked = false
  let told = false
  const listeners: ((why: string) => void)[] = []
  const lost = (why: string) => {
    if (asked || told) return
    told = true
    clearInterval(look)
    for (const listener of listeners) listener(why)
  }
  const gone = `${path} is gone. Was the adapter pulled out? It is opened again as soon as it is back.`
  // Windows names ports that are no files.
  const isFile = existsSync(path)
  const look = setInterval(() => {
    if (isFile && !existsSync(path)) lost(gone)
  }, lookEveryMs)
  look.unref()
  port.on('close', () => lost(gone))
  // An adapter pulled out in the middle of traffic raises no close: the next write fails with EIO.
  port.on('error', (problem) => lost(/EIO|ENXIO|ENODEV|EBADF/.test(problem.message) ? gone : `${path}: ${problem.message}`))
  return ok({
    write: (bytes) => {
      if (!port.isOpen) return
      const written = descriptor && port.writableLength === 0 ? descriptor.write(bytes) : 0
      if (written < bytes.length) port.write(Buffer.from(bytes.subarray(written)))
    },
    onBytes: (listener) => {
      if (descriptor) descriptor.read(listener, () => port.close())
      else port.on('data', (data: Buffer) => listener(new Uint8Array(data)))
    },
    onClose: (listener) => {
      listeners.push(listener)
    },
    close: () =>
      new Promise((done) => {
        asked = true
        clearInterval(look)
        if (port.isOpen) port.close(() => done())
        else done()
      }),
  })
}

/** What the system says of a port that does not open, as a sentence that names the next step. */
function explainOpening(path: string, problem: Error): string {
  const text = problem.message
  if (/ENOENT|No such file|cannot find|File not found/i.test(text))
    return `There is no port ${path}. Is the adapter plugged in? "spanwright ports" lists what is there.`
  if (/lock port|EBUSY|Access denied|resource busy/i.test(text)) return `${path} is in use by another program; close it there first.`
  if (/EACCES|EPERM|Permission/i.test(text))
    return `${path} may not be opened by this user; on Linux add the user to the group that owns the port (often dialout).`
  return `${path} could not be opened: ${text}`
}
