import { createServer, type Socket } from 'node:net'
import type { Wire } from './wire.ts'

/** What small gateways do: more connections than `sockets` are closed at once, and one that is idle for `idleMs` is closed. */
export type ListenLimits = { sockets?: number | undefined; idleMs?: number | undefined }
export type Listening = { port: number; connections(): number; close(): Promise<void> }

/** Listens on 127.0.0.1 and hands over each connection as a wire. Rejects where the port is taken. */
export const listenTcp = (port: number, onWire: (wire: Wire) => void, limits: ListenLimits = {}): Promise<Listening> =>
  new Promise((resolve, reject) => {
    const sockets = new Set<Socket>()
    const server = createServer((socket) => {
      if (sockets.size >= (limits.sockets ?? Number.POSITIVE_INFINITY)) {
        socket.destroy()
        return
      }
      sockets.add(socket)
      if (limits.idleMs !== undefined) socket.setTimeout(limits.idleMs, () => socket.destroy())
      socket.setNoDelay(true)
      socket.on('error', () => {})
      socket.on('close', () => sockets.delete(socket))
      onWire({
        onBytes: (listener) => {
          socket.on('data', listener)
        },
        onClose: (listener) => {
          socket.on('close', listener)
        },
        write(bytes) {
          if (!socket.destroyed) socket.write(bytes)
        },
        close: async () => {
          socket.destroy()
        },
      })
    })
    server.once('error', reject)
    server.listen(port, '127.0.0.1', () => {
      const address = server.address()
      if (address === null || typeof address === 'string') return reject(new Error('the listening socket has no port'))
      resolve({
        port: address.port,
        connections: () => sockets.size,
        close: () =>
          new Promise((done) => {
            for (const socket of sockets) socket.destroy()
            server.close(() => done())
          }),
      })
    })
  })
