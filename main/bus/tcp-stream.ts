import { ok } from '../../app/result.ts'
import type { OpenStream } from './byte-stream.ts'
import { connectSocket, watchSocket } from './tcp-socket.ts'

/** Opens a socket to a serial device server that passes RTU frames on as they are. */
export const tcpStream =
  (host: string, port: number): OpenStream =>
  async () => {
    const connected = await connectSocket(host, port)
    if (!connected.ok) return connected
    const socket = connected.value
    const { onLost, close } = watchSocket(socket, `${host}:${port}`)
    return ok({
      write(bytes) {
        socket.write(bytes)
      },
      onBytes(listener) {
        socket.on('data', (data: Buffer) => listener(new Uint8Array(data)))
      },
      onClose: onLost,
      close,
    })
  }
