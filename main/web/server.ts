import { createServer, type IncomingMessage, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import sirv from 'sirv'
import { type WebSocket, WebSocketServer } from 'ws'
import type { Host } from '../host/host.ts'
import { pageHeaders } from '../page-files.ts'
import { serveRenderer } from '../serve.ts'
import { cookieName, createGatekeeper } from './gatekeeper.ts'

const largestMessage = 1_000_000
/** A renderer that has stopped reading is cut off here; it reconnects and is sent the state afresh. */
const mostUnsent = 8_000_000

const headers = {
  ...pageHeaders,
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
}

export type WebShell = { /** Address with a token that works once. */ url: string; port: number; close(): Promise<void> }

/** Serves the built renderer and the contract on the loopback of this machine, behind a token. */
export async function serveWeb(
  host: Host,
  options: { folder: string; port: number; onNewAddress?: (url: string) => void },
): Promise<WebShell> {
  const gate = createGatekeeper()
  const files = sirv(options.folder, { dev: true, etag: false })
  const server = createServer((request, response) => {
    for (const [name, value] of Object.entries(headers)) response.setHeader(name, value)
    answer(request, response)
  })

  let port = 0
  const address = () => `http://127.0.0.1:${port}/?token=${gate.token()}`

  function answer(request: IncomingMessage, response: ServerResponse): void {
    if (!gate.hostAllowed(request)) return refuse(response, 421, 'This server answers to its own address only.')
    if (request.method !== 'GET' && request.method !== 'HEAD') return refuse(response, 405, 'Only reading is served here.')
    const url = new URL(request.url ?? '/', 'http://127.0.0.1')
    const cookie = gate.redeem(url.searchParams.get('token'))
    if (cookie !== null) {
      options.onNewAddress?.(address())
      response.setHeader('Set-Cookie', `${cookieName}=${cookie}; HttpOnly; SameSite=Strict; Path=/`)
      response.writeHead(303, { Location: '/' }).end()
      return
    }
    if (!gate.known(request))
      return refuse(response, 403, 'Open the address that Spanwright printed when it started; its token works once.')
    files(request, response, () => refuse(response, 404, 'There is no such page.'))
  }

  const sockets = new WebSocketServer({ noServer: true, maxPayload: largestMessage })
  server.on('upgrade', (request, socket, head) => {
    const allowed = request.url === '/host' && gate.hostAllowed(request) && gate.originAllowed(request) && gate.known(request)
    if (!allowed) {
      socket.end('HTTP/1.1 403 Forbidden\r\nConnection: close\r\n\r\n')
      return
    }
    sockets.handleUpgrade(request, socket, head, (ws) => connect(host, ws))
  })

  await new Promise<void>((resolve, reject) => server.once('error', reject).listen(options.port, '127.0.0.1', resolve))
  port = (server.address() as AddressInfo).port
  gate.listensOn(port)
  return {
    url: address(),
    port,
    async close() {
      for (const ws of sockets.clients) ws.terminate()
      sockets.close()
      server.closeAllConnections()
      await new Promise<void>((resolve) => server.close(() => resolve()))
    },
  }
}

function refuse(response: ServerResponse, status: number, why: string): void {
  response.writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8' }).end(`${why}\n`)
}

function connect(host: Host, ws: WebSocket): void {
  ws.on('error', () => ws.terminate())
  serveRenderer(host, {
    send(message) {
      if (ws.readyState !== ws.OPEN) return
      if (ws.bufferedAmount > mostUnsent) ws.terminate()
      else ws.send(message.kind === 'samples' ? message.bytes : JSON.stringify(message))
    },
    onMessage(listener) {
      ws.on('message', (data, isBinary) => {
        if (isBinary) return
        let message: unknown
        try {
          message = JSON.parse(String(data))
        } catch {
          message = null
        }
        listener(message)
      })
    },
    onClose: (listener) => ws.on('close', listener),
  })
}
