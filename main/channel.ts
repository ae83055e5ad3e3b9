import type { HostMessage } from '../app/contract/contract.ts'

/** One renderer at the other end, whichever shell carries it. What arrives is unknown until the host has decoded it. */
export type Channel = {
  send(message: HostMessage): void
  onMessage(listener: (message: unknown) => void): void
  onClose(listener: () => void): void
}
