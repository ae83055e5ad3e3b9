import { accessSync, constants, readdirSync, readlinkSync, realpathSync } from 'node:fs'
import { join } from 'node:path'

export type PortAccess = { access: 'seems-free' | 'used-elsewhere' | 'not-permitted'; why?: string }

/**
 * What can be told of a port without opening it, which would move its modem lines: permission, and on Linux whether a process
 * that we may look into holds it. `processes` is where the system lists its processes.
 */
export function portAccess(path: string, processes = '/proc'): PortAccess {
  if (process.platform === 'win32') return { access: 'seems-free' }
  try {
    accessSync(path, constants.R_OK | constants.W_OK)
  } catch {
    return {
      access: 'not-permitted',
      why: `${path} may not be opened by this user; on Linux add the user to the group that owns the port (often dialout).`,
    }
  }
  const owner = process.platform === 'linux' ? holderOf(realpathSync(path), processes) : null
  return owner === null
    ? { access: 'seems-free' }
    : { access: 'used-elsewhere', why: `Process ${owner} has ${path} open; close it there first.` }
}

function holderOf(path: string, processes: string): string | null {
  for (const id of listed(processes)) {
    if (!/^\d+$/.test(id) || Number(id) === process.pid) continue
    const files = join(processes, id, 'fd')
    if (listed(files).some((fd) => target(join(files, fd)) === path)) return id
  }
  return null
}

/** Processes of other users may not be looked into, and any may have ended meanwhile. */
function listed(folder: string): string[] {
  try {
    return readdirSync(folder)
  } catch {
    return []
  }
}

function target(link: string): string | null {
  try {
    return readlinkSync(link)
  } catch {
    return null
  }
}
