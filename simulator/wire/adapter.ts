import { mkdtempSync, rmSync, symlinkSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { openPty } from './open-pty.ts'
import type { Wire } from './wire.ts'

/**
 * A serial adapter that can be pulled out and put back: a new pseudo-terminal each time, at a path that stays the same.
 * `onWire` gets each one. Throws where the system has no pseudo-terminals.
 */
export const openAdapter = (
  onWire: (wire: Wire) => void,
): { path: string; isIn(): boolean; pull(): Promise<void>; plug(): void; close(): Promise<void> } => {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'))
  const path = join(folder, 'line')
  let wire: Wire | undefined
  const pull = async () => {
    rmSync(path, { force: true })
    const pulled = wire
    wire = undefined
    await pulled?.close()
  }
  const plug = () => {
    if (wire) return
    const opened = openPty()
    wire = opened.wire
    symlinkSync(opened.path, path)
    onWire(opened.wire)
  }
  try {
    plug()
  } catch (cause) {
    rmSync(folder, { recursive: true, force: true })
    throw cause
  }
  return {
    path,
    isIn: () => wire !== undefined,
    pull,
    plug,
    async close() {
      await pull()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}
