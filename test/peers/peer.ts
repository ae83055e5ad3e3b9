import { execFileSync } from 'node:child_process'
import { accessSync, constants } from 'node:fs'
import { delimiter, join } from 'node:path'
import { describe, it } from 'vitest'

/** Programs from outside that some tests are run against; none of them comes with this project. */
export type PeerName = 'socat' | 'pymodbus' | 'chromium'
export type Peer = { ok: true; path: string } | { ok: false; why: string }

const programs: Record<PeerName, readonly string[]> = {
  socat: ['socat'],
  pymodbus: ['/usr/bin/python3'],
  chromium: ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'],
}

const isExecutable = (path: string): boolean => {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}

const locate = (names: readonly string[]): string | undefined => {
  const folders = (process.env['PATH'] ?? '').split(delimiter).filter((folder) => folder !== '')
  return names.flatMap((name) => (name.startsWith('/') ? [name] : folders.map((folder) => join(folder, name)))).find(isExecutable)
}

const lookFor = (name: PeerName): Peer => {
  const path = locate(programs[name])
  if (path === undefined) return { ok: false, why: `${name} not found: looked for ${programs[name].join(', ')}` }
  if (name !== 'pymodbus') return { ok: true, path }
  try {
    execFileSync(path, ['-c', 'import pymodbus, serial'], { stdio: 'pipe' })
    return { ok: true, path }
  } catch {
    return { ok: false, why: `pymodbus not found: ${path} cannot import pymodbus and serial (Debian: python3-pymodbus)` }
  }
}

const found = new Map<PeerName, Peer>()

/** Looks once for a peer on this machine. For `pymodbus` the path is that of the Python which can import it. */
export const findPeer = (name: PeerName): Peer => {
  const known = found.get(name)
  if (known !== undefined) return known
  const peer = lookFor(name)
  found.set(name, peer)
  return peer
}

/** True where a missing peer is a failure and not a skipped test. */
export const peersRequired = (): boolean => process.env['SPANWRIGHT_REQUIRE_PEERS'] === '1'

/**
 * Tests that need programs from outside. Where one is missing the tests are skipped, and say so by name and reason;
 * with SPANWRIGHT_REQUIRE_PEERS=1 they fail instead. `paths` has the path of each peer asked for.
 */
export const describePeers = <N extends PeerName>(names: readonly N[], title: string, body: (paths: Record<N, string>) => void): void => {
  const peers = names.map((name) => ({ name, peer: findPeer(name) }))
  const missing = peers.flatMap(({ peer }) => (peer.ok ? [] : [peer.why]))
  if (missing.length === 0) {
    const paths = Object.fromEntries(peers.map(({ name, peer }) => [name, peer.ok ? peer.path : '']))
    describe(title, () => body(paths as Record<N, string>))
    return
  }
  const why = `not run: ${missing.join('; ')}`
  describe(title, () => {
    if (peersRequired()) {
      it('finds its peers, as SPANWRIGHT_REQUIRE_PEERS=1 demands', () => {
        throw new Error(why)
      })
      return
    }
    console.warn(`${title}: ${why}`)
    it.skip(why, () => {})
  })
}
