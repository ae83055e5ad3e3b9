import { once } from 'node:events'
import { createConnection } from 'node:net'
import { SerialPort } from 'serialport'
import type { BenchAddress } from '../../simulator/index.ts'
import { bytes, hex } from './bytes.ts'

/** The master's end of a bus, without any protocol. */
export type RawLine = {
  send(text: string): void
  /** The next so many bytes, in hexadecimal. */
  next(count: number): Promise<string>
  /** Everything received and not taken yet. */
  rest(): string
  /** Ends a socket; settles when the other end has taken everything that was sent. */
  finish(): Promise<void>
  close(): Promise<void>
}

export const openRaw = async (address: BenchAddress): Promise<RawLine> => {
  const stream =
    'path' in address
      ? new SerialPort({ path: address.path, baudRate: 19_200 })
      : createConnection({ host: address.host, port: address.port })
  let held: number[] = []
  let arrived = () => {}
  stream.on('data', (data: Buffer) => {
    held.push(...data)
    arrived()
  })
  await once(stream, 'path' in address ? 'open' : 'connect')
  return {
    send: (text) => void stream.write(Buffer.from(bytes(text))),
    async next(count) {
      while (held.length < count)
        await new Promise<void>((resolve) => {
          arrived = resolve
        })
      const taken = held.slice(0, count)
      held = held.slice(count)
      return hex(taken)
    },
    rest: () => hex(held),
    async finish() {
      const closed = once(stream, 'close')
      stream.end()
      await closed
    },
    async close() {
      if ('path' in address ? !(stream as SerialPort).isOpen : stream.destroyed) return
      const closed = once(stream, 'close')
      if ('path' in address) (stream as SerialPort).close()
      else stream.destroy()
      await closed
    },
  }
}
