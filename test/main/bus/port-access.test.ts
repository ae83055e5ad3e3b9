import { execFileSync } from 'node:child_process'
import { chmodSync, mkdirSync, mkdtempSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { type PortAccess, portAccess } from '../../../main/bus/port-access.ts'

describe.runIf(process.platform === 'linux')('what can be told of a port without opening it', () => {
  const folder = mkdtempSync(join(tmpdir(), 'access-'))
  chmodSync(folder, 0o755)
  const port = join(folder, 'ttyX')
  writeFileSync(port, '')
  const module = new URL('../../../main/bus/port-access.ts', import.meta.url).href
  const processes = join(folder, 'processes')
  mkdirSync(join(processes, '4711', 'fd'), { recursive: true })

  /** The superuser may open anything, whatever the permissions say: then a process that has given up its rights is asked. */
  function accessOfOrdinaryUser(): PortAccess {
    if (process.getuid?.() !== 0) return portAccess(port, processes)
    const giveUp = 'process.setgroups([]); process.setgid(65534); process.setuid(65534)'
    const ask = `console.log(JSON.stringify(portAccess(...${JSON.stringify([port, processes])})))`
    const program = `import { portAccess } from ${JSON.stringify(module)}; ${giveUp}; ${ask}`
    return JSON.parse(execFileSync(process.execPath, ['--input-type=module', '--eval', program], { encoding: 'utf8' })) as PortAccess
  }

  it('seems free where nobody is seen to hold it', () => {
    expect(portAccess(port, processes)).toEqual({ access: 'seems-free' })
  })

  it.each([0o000, 0o444, 0o222])('is not permitted where the user may not both read and write it: %i', (mode) => {
    chmodSync(port, mode)
    expect(accessOfOrdinaryUser()).toMatchObject({ access: 'not-permitted', why: expect.stringContaining('dialout') })
    chmodSync(port, 0o666)
    expect(accessOfOrdinaryUser()).toEqual({ access: 'seems-free' })
  })

  it('names the process that holds it, also under another name of the same port', () => {
    symlinkSync(port, join(processes, '4711', 'fd', '7'))
    symlinkSync(port, join(folder, 'by-id'))
    for (const name of [port, join(folder, 'by-id')])
      expect(portAccess(name, processes)).toMatchObject({ access: 'used-elsewhere', why: expect.stringContaining('Process 4711') })
  })
})
