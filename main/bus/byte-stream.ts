import type { Result } from '../../app/result.ts'

/** A way for bytes, opened: a serial port or a socket. It never opens again; whoever keeps it asks for a new one. */
export type ByteStream = {
  write(bytes: Uint8Array): void
  onBytes(listener: (bytes: Uint8Array) => void): void
  /** Called once, when the stream ended without `close` having been asked for; `why` is a sentence for people. */
  onClose(listener: (why: string) => void): void
  close(): Promise<void>
}

/** Opens a stream; the failure is a sentence for people. */
export type OpenStream = () => Promise<Result<ByteStream, string>>
