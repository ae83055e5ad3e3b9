import { chmodSync, mkdirSync, mkdtempSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { portAccess } from '../../../main/bus/port-access.ts'

describe.runIf(process.platform === 'linux')('what can be told of a port without opening it', () => {
  const folder = mkdtempSync(join(tmpdir(), 'access-'))
  const port = join(folder, 'ttyX')
  writeFileSync(port, '')
  const processes = join(folder, 'processes')
  mkdirSync(join(processes, '4711', 'fd'), { recursive: true })

  it('seems free where nobody is seen to hold it', () => {
    expect(portAccess(port, processes)).toEqual({ access: 'seems-free' })
  })

  // The system asks who really runs this, so no other user can be played.
  it.skipIf(process.getuid?.() === 0).each([0o000, 0o444, 0o222])(
    'is not permitted where the user may not both read and write it: %i',
    (mode) => {
      chmodSync(port, mode)
      expect(portAccess(port, processes)).toMatchObject({ access: 'not-permitted', why: expect.stringContaining('dialout') })
      chmodSync(port, 0o600)
    },
  )

  it('names the process that holds it, also under another name of the same port', () => {
    symlinkSync(port, join(processes, '4711', 'fd', '7'))
    symlinkSync(port, join(folder, 'by-id'))
    for (const name of [port, join(folder, 'by-id')])
      expect(portAccess(name, processes)).toMatchObject({ access: 'used-elsewhere', why: expect.stringContaining('Process 4711') })
  })
})
