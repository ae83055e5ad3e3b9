import { SerialPort } from 'serialport'
import type { Wire } from './wire.ts'

/** Opens an existing serial port, 8N1, as the device's end of a line. Rejects where it cannot be opened. */
export const openSerial = (path: string, baud: number): Promise<Wire> =>
  new Promise((resolve, reject) => {
    const port = new SerialPort({ path, baudRate: baud, autoOpen: false })
    port.on('error', () => {})
    port.open((problem) => {
      if (problem) return reject(problem)
      resolve({
        onBytes: (listener) => {
          port.on('data', listener)
        },
        onClose: (listener) => {
          port.on('close', listener)
        },
        write(bytes) {
          if (port.isOpen) port.write(Buffer.from(bytes))
        },
        close: () => new Promise((done) => (port.isOpen ? port.close(() => done()) : done())),
      })
    })
  })
