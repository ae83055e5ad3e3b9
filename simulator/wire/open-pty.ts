import { closeSync } from 'node:fs'
import { createRequire } from 'node:module'
import { ReadStream } from 'node:tty'
import type { Wire } from './wire.ts'

type Binding = { open(columns: number, rows: number): { master: number; slave: number; pty: string } }

const loadBinding = (): Binding => {
  const name = `@lydell/node-pty-${process.platform}-${process.arch}/pty.node`
  const load = createRequire(import.meta.url)
  try {
    return load(name) as Binding
  } catch (cause) {
    throw new Error(`no pseudo-terminal here: ${name} is not installed. Use a link over TCP, or a serial path.`, { cause })
  }
}

/** Opens a pseudo-terminal; `path` is the end that a master opens as its serial port. Throws where the system has none to give. */
export const openPty = (): { wire: Wire; path: string } => {
  const { master, slave, pty } = loadBinding().open(80, 24)
  const device = new ReadStream(master)
  let closed = false
  device.on('error', () => {})
  return {
    path: pty,
    wire: {
      onBytes: (listener) => {
        device.on('data', listener)
      },
      onClose: (listener) => {
        device.on('close', listener)
      },
      write(bytes) {
        if (!closed) device.write(bytes)
      },
      close: () =>
        new Promise((resolve) => {
          if (closed) return resolve()
          closed = true
          device.once('close', () => {
            // Kept open until here: without it the device's end fails as soon as the master closes its port.
            closeSync(slave)
            resolve()
          })
          device.destroy()
        }),
    },
  }
}
