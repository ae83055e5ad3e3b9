import { execFileSync } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { _electron } from 'playwright-core'
import { describe, expect, it } from 'vitest'

const root = new URL('../../..', import.meta.url).pathname
const programs: Record<string, string> = { linux: 'electron', win32: 'electron.exe', darwin: 'Electron.app/Contents/MacOS/Electron' }
const executablePath = join(root, 'node_modules', 'electron', 'dist', programs[process.platform] ?? 'electron')
const hasDisplay = process.platform !== 'linux' || Boolean(process.env['DISPLAY'] || process.env['WAYLAND_DISPLAY'])

const whyNot = !existsSync(executablePath)
  ? "Electron's runtime is not installed (npm brings only its launcher), so the window has not been opened"
  : hasDisplay
    ? undefined
    : 'there is no display, so the window has not been opened'

describe('the real window', () => {
  it('opens the page with its bridge and without Node', { timeout: 90_000 }, async (context) => {
    if (whyNot !== undefined) context.skip(whyNot)
    execFileSync(join(root, 'node_modules', '.bin', 'electron-vite'), ['build', '--logLevel', 'warn'], { cwd: root })
    const home = mkdtempSync(join(tmpdir(), 'spanwright-home-'))
    const app = await _electron.launch({ executablePath, args: [root], env: { ...(process.env as Record<string, string>), HOME: home } })
    try {
      const page = await app.firstWindow()
      await page.waitForLoadState()
      expect(page.url()).toBe('spanwright://page/index.html')
      expect(await page.evaluate(() => Object.keys(window.spanwright ?? {}).sort())).toEqual(['onMessage', 'send'])
      expect(await page.evaluate(() => ['require', 'process', 'module'].filter((name) => name in globalThis))).toEqual([])
      expect(await page.locator('#root > *').count()).toBeGreaterThan(0)
    } finally {
      await app.close()
      rmSync(home, { recursive: true, force: true })
    }
  })
})
