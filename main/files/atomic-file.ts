import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeFileSync } from 'node:fs'

/** Replaces a file whole or not at all: a full disk or a kill leaves the old one. Throws what the system says. */
export function writeFileAtomically(path: string, content: string | Uint8Array): void {
  const next = `${path}.next`
  const file = openSync(next, 'w')
  try {
    // Not writeSync: on a disk that is nearly full it may write a part and report no error.
    writeFileSync(file, content)
    fsyncSync(file)
  } catch (cause) {
    closeSync(file)
    rmSync(next, { force: true })
    throw cause
  }
  closeSync(file)
  renameSync(next, path)
}
