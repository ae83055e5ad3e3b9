import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeSync } from 'node:fs'

/** Replaces a file whole or not at all: a full disk or a kill leaves the old one. Throws what the system says. */
export function writeFileAtomically(path: string, text: string): void {
  const next = `${path}.next`
  const file = openSync(next, 'w')
  try {
    writeSync(file, text)
    fsyncSync(file)
  } catch (cause) {
    closeSync(file)
    rmSync(next, { force: true })
    throw cause
  }
  closeSync(file)
  renameSync(next, path)
}
