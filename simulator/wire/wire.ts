/** A two-way stream of bytes, seen from the simulator's end. */
export type Wire = {
  onBytes(listener: (bytes: Uint8Array) => void): void
  write(bytes: Uint8Array): void
  onClose(listener: () => void): void
  close(): Promise<void>
}
