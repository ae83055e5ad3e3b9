import { readSync, writeSync } from 'node:fs'
import type { SerialPort } from 'serialport'

type Opened = NonNullable<SerialPort['port']>
/** What the library opens where a port is a file descriptor, on Linux and macOS. */
type UnixPort = Extract<Opened, { poller: unknown }>

export type PortDescriptor = {
  /** `heard` gets every piece as soon as the system has it; `lost` is called once, where the port is gone. */
  read(heard: (bytes: Uint8Array) => void, lost: () => void): void
  /** Bytes of the frame that the system took; it takes a whole one unless its buffer is full. */
  write(bytes: Uint8Array): number
}

const longestPiece = 4096

/**
 * The descriptor of an open port, read and written without the library's stream and thread pool: those cost a few tenths of a
 * millisecond per transaction and much of the processor time. It never blocks. None on Windows, where the stream has to do.
 */
export function descriptorOf({ port }: SerialPort): PortDescriptor | undefined {
  return port && 'poller' in port ? descriptor(port) : undefined
}

function descriptor(port: UnixPort): PortDescriptor {
  return {
    read(heard, lost) {
      const buffer = new Uint8Array(longestPiece)
      const next = () => {
        port.poller.once('readable', (problem: Error | null) => {
          // Closing the port cancels the waiting; then there is no descriptor any more.
          if (port.fd === null) return
          const count = problem ? 'gone' : readNow(port.fd, buffer)
          if (count === 'gone') return lost()
          if (count > 0) heard(buffer.slice(0, count))
          next()
        })
      }
      next()
    },
    write(bytes) {
      try {
        return port.fd === null ? 0 : writeSync(port.fd, bytes)
      } catch {
        // What it did not take goes through the library, which waits or says what is wrong.
        return 0
      }
    },
  }
}

function readNow(fd: number, buffer: Uint8Array): number | 'gone' {
  try {
    // Told that there is something, and there is nothing: the other end is gone.
    return readSync(fd, buffer) || 'gone'
  } catch (cause) {
    const code = cause instanceof Error && 'code' in cause ? cause.code : undefined
    return code === 'EAGAIN' || code === 'EINTR' ? 0 : 'gone'
  }
}
