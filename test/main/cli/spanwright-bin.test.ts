import { spawnSync } from 'node:child_process'
import { chmodSync, copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'

let folder: string
const own = () => join(folder, 'node_modules', 'node', 'bin', process.platform === 'win32' ? 'node.exe' : 'node')

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'spanwright-bin-'))
  mkdirSync(join(folder, 'main', 'cli'), { recursive: true })
  writeFileSync(join(folder, 'package.json'), '{ "type": "module" }')
  copyFileSync(new URL('../../../main/cli/spanwright.js', import.meta.url), join(folder, 'main', 'cli', 'spanwright.js'))
  writeFileSync(join(folder, 'main', 'cli', 'main.ts'), "const given: string[] = process.argv.slice(2)\nconsole.log('main', ...given)\n")
  writeFileSync(join(folder, 'old.mjs'), "Object.defineProperty(process.versions, 'node', { value: process.env.PRETEND })\n")
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

/** Runs the command with this Node, which is made to say that it is another version. */
const start = (version: string, ...args: string[]) =>
  spawnSync(process.execPath, ['--import', join(folder, 'old.mjs'), join(folder, 'main', 'cli', 'spanwright.js'), ...args], {
    encoding: 'utf8',
    env: { ...process.env, PRETEND: version },
  })

function putOwnNode(script: string): void {
  mkdirSync(dirname(own()), { recursive: true })
  writeFileSync(own(), `#!/bin/sh\n${script}\n`)
  chmodSync(own(), 0o755)
}

it.each(['22.18.0', '23.6.0', '24.0.0', '26.1.0'])('runs on Node %s', (version) => {
  expect(start(version, 'read', '--json').stdout).toBe('main read --json\n')
})

it.each(['12.22.0', '20.20.2', '22.17.1', '23.5.0'])('says on Node %s what is needed, and fails', (version) => {
  const { status, stdout, stderr } = start(version)
  expect([status, stdout]).toEqual([1, ''])
  expect(stderr).toBe(`Spanwright needs Node 22.18 or newer (this is ${version}). Run "npm ci" in its folder, or install a newer Node.\n`)
})

it.skipIf(process.platform === 'win32')("runs with the project's own Node where the one it was started with is too old", () => {
  putOwnNode('shift; echo "own $*"; exit 7')
  const { status, stdout } = start('20.20.2', 'read', '--json')
  expect([status, stdout]).toEqual([7, 'own read --json\n'])
})

it.skipIf(process.platform === 'win32')('ends by the same signal as the Node it started', () => {
  putOwnNode('kill -TERM $$')
  expect(start('20.20.2').signal).toBe('SIGTERM')
})
