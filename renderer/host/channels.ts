import type { RendererMessage } from '../../app/contract/contract.ts'
import type { Channel } from './host-client.ts'

/** What the window's preload offers to the page. */
type WindowBridge = { send(message: RendererMessage): void; onMessage(listener: (message: unknown) => void): void }

declare global {
  interface Window {
    spanwright?: WindowBridge
  }
}

const firstRetryMs = 500
const longestRetryMs = 5_000

/** WebSocket on the address the page came from; connects again by itself, slower each time. */
export function webSocketChannel(url: string): Channel {
  const onMessage = new Set<(message: unknown) => void>()
  const onConnected = new Set<(connected: boolean) => void>()
  let socket: WebSocket | undefined
  let retryMs = firstRetryMs

  const connect = () => {
    const attempt = new WebSocket(url)
    socket = attempt
    attempt.binaryType = 'arraybuffer'
    attempt.addEventListener('open', () => {
      retryMs = firstRetryMs
      for (const listener of onConnected) listener(true)
    })
    attempt.addEventListener('message', (event) => {
      const message =
        event.data instanceof ArrayBuffer ? { kind: 'samples', bytes: new Uint8Array(event.data) } : readJson(String(event.data))
      for (const listener of onMessage) listener(message)
    })
    attempt.addEventListener('close', () => {
      if (socket !== attempt) return
      socket = undefined
      for (const listener of onConnected) listener(false)
      setTimeout(connect, retryMs)
      retryMs = Math.min(retryMs * 2, longestRetryMs)
    })
  }
  connect()

  return {
    send: (message) => socket?.send(JSON.stringify(message)),
    onMessage: (listener) => onMessage.add(listener),
    onConnected: (listener) => onConnected.add(listener),
  }
}

function windowChannel(bridge: WindowBridge): Channel {
  return {
    send: (message) => bridge.send(message),
    onMessage: (listener) => bridge.onMessage(listener),
    onConnected: (listener) => listener(true),
  }
}

export function openChannel(): Channel {
  if (window.spanwright) return windowChannel(window.spanwright)
  return webSocketChannel(`${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}/host`)
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return text
  }
}
