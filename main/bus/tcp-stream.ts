import { Socket } from 'node:net'
import { fail, ok } from '../../app/result.ts'
import type { OpenStream } from './byte-stream.ts'

const connectWithinMs = 5_000

/** Opens a socket to a serial device server that passes RTU frames on as they are. */
export const tcpStream =
  (host: string, port: number): OpenStream =>
  () =>
    new Promise((resolve) => {
      const socket = new Socket()
      socket.setNoDelay(true)
      const place = `${host}:${port}`
      const giveUp = (why: string) => {
        socket.destroy()
        resolve(fail(why))
      }
      const onEarlyError = (problem: Error) => giveUp(explainConnecting(place, problem))
      socket.setTimeout(connectWithinMs, () => giveUp(`${place} did not answer within ${connectWithinMs / 1000} s. Is the address right and the device server on?`))
      socket.once('error', onEarlyError)
      socket.connect(port, host, () => {
        socket.setTimeout(0)
        socket.off('error', onEarlyError)
        let asked = false
        const listeners: ((why: string) => void)[] = []
        let why = `${place} closed the connection.`
        socket.on('error', (problem) => {
          why = `${place}: ${problem.message}`
        })
        socket.on('close', () => {
          if (!asked) for (const listener of listeners) listener(why)
        })
        resolve(
          ok({
            write: (bytes) => {
              socket.write(bytes)
            },
            onBytes: (listener) => {
              socket.on('data', (data) => listener(new Uint8Array(data)))
            },
            onClose: (listener) => {
              listeners.push(listener)
            },
            close: () =>
              new Promise<void>((done) => {
                asked = true
                if (socket.destroyed) return done()
                socket.once('close', () => done())
                socket.destroy()
              }),
          }),
        )
      })
    })

export function explainConnecting(place: string, problem: Error): string {
  const code = 'code' in problem ? problem.code : undefined
  if (code === 'ECONNREFUSED') return `${place} refuses the connection: nothing listens on this port, or its few sockets are taken.`
  if (code === 'ENOTFOUND' || code === 'EAI_AGAIN') return `There is no machine named ${place.split(':')[0]}; check the name or give its address.`
  if (code === 'EHOSTUNREACH' || code === 'ENETUNREACH') return `${place} cannot be reached from here; check cable and network address.`
  return `${place} could not be reached: ${problem.message}`
}
