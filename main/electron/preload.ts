import { contextBridge, ipcRenderer } from 'electron'
import type { HostMessage, RendererMessage } from '../../app/contract/contract.ts'
import { ipcNames } from './ipc-names.ts'

/** What came before the page began to listen. */
const early: HostMessage[] = []
const listeners: ((message: HostMessage) => void)[] = []

ipcRenderer.on(ipcNames.toPage, (_event, message: HostMessage) => {
  if (listeners.length === 0) early.push(message)
  for (const listener of listeners) listener(message)
})

/** The only thing the page has besides the browser: messages to the host and from it. */
contextBridge.exposeInMainWorld('spanwright', {
  send: (message: RendererMessage): void => ipcRenderer.send(ipcNames.toHost, message),
  onMessage: (listener: (message: HostMessage) => void): void => {
    listeners.push(listener)
    for (const message of early.splice(0)) listener(message)
  },
})

ipcRenderer.send(ipcNames.ready)
