import type { Channel } from '../channel.ts'
import { ipcNames } from './ipc-names.ts'
import { isPageUrl } from './page-protocol.ts'
import type { Contents, Ipc, SenderEvent } from './runtime.ts'

type OpenChannel = { receive(message: unknown): void; close(): void }

/** One loaded page as a channel; it ends when the page is loaded again, breaks or is closed. */
function openChannel(contents: Contents, serve: (channel: Channel) => void): OpenChannel {
  const onMessage: ((message: unknown) => void)[] = []
  const onClose: (() => void)[] = []
  let closed = false
  serve({
    send: (message) => {
      if (!closed && !contents.isDestroyed()) contents.send(ipcNames.toPage, message)
    },
    onMessage: (listener) => void onMessage.push(listener),
    onClose: (listener) => void onClose.push(listener),
  })
  return {
    receive: (message) => {
      for (const listener of onMessage) listener(message)
    },
    close: () => {
      if (closed) return
      closed = true
      for (const listener of onClose) listener()
    },
  }
}

/** Carries messages between the window's page and the host. What comes from any other sender or frame is dropped. */
export function carryMessages<C extends Contents>(ipc: Ipc<C>, contents: C, serve: (channel: Channel) => void): void {
  let current: OpenChannel | undefined

  const isOurPage = (event: SenderEvent<C>) =>
    event.sender === contents && event.senderFrame !== null && event.senderFrame === contents.mainFrame && isPageUrl(event.senderFrame.url)

  const close = () => {
    current?.close()
    current = undefined
  }

  ipc.on(ipcNames.ready, (event) => {
    if (!isOurPage(event)) return
    close()
    current = openChannel(contents, serve)
  })
  ipc.on(ipcNames.toHost, (event, message) => {
    if (isOurPage(event)) current?.receive(message)
  })
  contents.on('render-process-gone', close)
  contents.on('destroyed', close)
}
