import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { describe, expect, it } from 'vitest'

type Target = string | { target: string }
type Packaging = {
  asarUnpack: string[]
  npmRebuild: boolean
  files: string[]
  linux: { target: Target[]; files?: string[] }
  win: { target: Target[]; files?: string[] }
  mac: { target: Target[]; files?: string[] }
}

// The packager brings both: its own check, and the reader of its file format.
const fromPackager = createRequire(createRequire(import.meta.url).resolve('electron-builder/package.json'))
const { load } = fromPackager('js-yaml') as { load(text: string): unknown }
const { validateConfiguration } = fromPackager('app-builder-lib/out/util/config/config.js') as {
  validateConfiguration(config: unknown, log: { isEnabled: boolean; add(): void }): Promise<void>
}

const packaging = load(readFileSync(new URL('../../../electron-builder.yml', import.meta.url), 'utf8')) as Packaging
const validate = (config: object) => validateConfiguration(config, { isEnabled: false, add: () => {} })
const names = (targets: readonly Target[]) => targets.map((t) => (typeof t === 'string' ? t : t.target))

describe('electron-builder.yml', () => {
  it('is a valid configuration', async () => {
    await expect(validate(packaging)).resolves.toBeUndefined()
  })

  it('and the check would notice an unknown key and a wrong type', async () => {
    await expect(validate({ ...packaging, asarUnpak: [] })).rejects.toThrow(/asarUnpak/)
    await expect(validate({ ...packaging, npmRebuild: 'no' })).rejects.toThrow(/npmRebuild/)
  })

  // The packager's own check takes a misspelt target for a plug-in.
  it('names only targets that exist', () => {
    expect(names(packaging.linux.target)).toEqual(['AppImage', 'deb'])
    expect(names(packaging.win.target)).toEqual(['nsis'])
    expect(names(packaging.mac.target)).toEqual(['dmg'])
  })

  // A system's own list of only exclusions would pack the whole project, as was seen once.
  it('packs the built bundles and no sources, on every system', () => {
    expect(packaging.files.filter((pattern) => !pattern.startsWith('!'))).toEqual(['out/**', 'package.json', 'LICENSE'])
    expect([packaging.linux.files, packaging.win.files, packaging.mac.files]).toEqual([undefined, undefined, undefined])
  })

  it('leaves native modules outside the archive and does not rebuild them', () => {
    expect(packaging.asarUnpack).toContain('**/*.node')
    expect(packaging.npmRebuild).toBe(false)
  })
})
