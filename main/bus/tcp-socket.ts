import { Socket } from 'node:net'
import { fail, ok, type Result } from '../../app/result.ts'

const connectWithinMs = 5_000

/** Connects to a device server, gateway or indicator; the failure is a sentence for people. */
export function connectSocket(host: string, port: number): Promise<Result<Socket, string>> {
  return new Promise((resolve) => {
    const place = `${host}:${port}`
    const socket = new Socket()
    socket.setNoDelay(true)
    socket.setKeepAlive(true, 10_000)
    const giveUp = (why: string) => {
      socket.destroy()
      resolve(fail(why))
    }
    const onEarlyError = (problem: Error) => giveUp(explainConnecting(place, problem))
    socket.setTimeout(connectWithinMs, () =>
      giveUp(`${place} did not answer within ${connectWithinMs / 1000} s. Is the address right and the device server on?`),
    )
    socket.once('error', onEarlyError)
    socket.connect(port, host, () => {
      socket.setTimeout(0)
      socket.removeAllListeners('timeout')
      socket.off('error', onEarlyError)
      resolve(ok(socket))
    })
  })
}

/** Tells once when the other end or the network ended the connection, and not when `close` was asked for. */
export function watchSocket(socket: Socket, place: string): { onLost(listener: (why: string) => void): void; close(): Promise<void> } {
  let asked = false
  let why = `${place} closed the connection.`
  socket.on('error', (problem) => {
    why = `${place}: ${problem.message}`
  })
  return {
    onLost(listener) {
      socket.on('close', () => {
        if (!asked) listener(why)
      })
    },
    close: () =>
      new Promise<void>((done) => {
        asked = true
        if (socket.destroyed) return done()
        socket.once('close', () => done())
        socket.destroy()
      }),
  }
}

function explainConnecting(place: string, problem: Error): string {
  const code = 'code' in problem ? problem.code : undefined
  if (code === 'ECONNREFUSED') return `${place} refuses the connection: nothing listens on this port, or its few sockets are taken.`
  if (code === 'ENOTFOUND' || code === 'EAI_AGAIN')
    return `There is no machine named ${place.slice(0, place.lastIndexOf(':'))}; check the name or give its address.`
  if (code === 'EHOSTUNREACH' || code === 'ENETUNREACH') return `${place} cannot be reached from here; check cable and network address.`
  return `${place} could not be reached: ${problem.message}`
}
