import { open } from 'node:fs/promises'

/** What a long piece of work on files is told, and what it tells: bytes done and bytes in all. */
export type FileWork = { signal: AbortSignal; tell(done: number, of: number): void }

/** For whoever waits for it without looking. */
export const unwatched: FileWork = { signal: new AbortController().signal, tell() {} }

export const cancelled = 'It was cancelled.'

const partBytes = 256 * 1024

/** The content of a file in parts, with room for other work between them. Throws when the work is cancelled. */
export async function* partsOf(path: string, signal: AbortSignal): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  const file = await open(path)
  try {
    for (;;) {
      signal.throwIfAborted()
      const { bytesRead, buffer } = await file.read(new Uint8Array(partBytes), 0, partBytes)
      if (bytesRead === 0) return
      yield buffer.subarray(0, bytesRead)
    }
  } finally {
    await file.close()
  }
}
