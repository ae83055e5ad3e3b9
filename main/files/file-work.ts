import { createReadStream } from 'node:fs'

/** What a long piece of work on files is told, and what it tells: bytes done and bytes in all. */
export type FileWork = { signal: AbortSignal; tell(done: number, of: number): void }

/** For whoever waits for it without looking. */
export const unwatched: FileWork = { signal: new AbortController().signal, tell() {} }

export const cancelled = 'It was cancelled.'

const partBytes = 256 * 1024

/** The content of a file in parts, with room for other work between them. Throws when the work is cancelled. */
export const partsOf = (path: string, signal: AbortSignal): AsyncIterable<Buffer<ArrayBuffer>> =>
  createReadStream(path, { signal, highWaterMark: partBytes })
