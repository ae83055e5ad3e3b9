import { globSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type Import, importsInFile, importsOf } from './imports.ts'

/** The first row whose `from` fits a file says what it may import; `types` are allowed besides, as types only. */
const mayImport: readonly { from: RegExp; may: RegExp; types?: RegExp }[] = [
  { from: /^app\/quantity\/exact\.ts$/, may: /^app\/|^fraction\.js$/ },
  { from: /^app\//, may: /^app\/|^zod$/ },
  { from: /^renderer\/vite\.config\.ts$/, may: /^(vite|@vitejs\/plugin-react)$/ },
  {
    from: /^renderer\//,
    may: /^(renderer|app)\/|^(react|react-dom|chart\.js|chartjs-plugin-(zoom|annotation)|papaparse|@mantine\/(core|hooks)|@tanstack\/react-table|@fontsource\/[a-z0-9-]+)(\/|$)/,
  },
  { from: /^simulator\//, may: /^simulator\/|^app\/profile\/schema\.ts$|^(node:.*|serialport)$/, types: /^app\// },
  {
    from: /^main\/electron\/(index|preload)\.ts$/,
    may: /^(main|app)\/|^simulator\/index\.ts$|^(electron|node:.*)$/,
  },
  { from: /^main\/cli\//, may: /^(main|app)\/|^(node:.*|commander|zod)$/ },
  { from: /^main\/start\.ts$/, may: /^main\/|^(node:.*|vite)$/ },
  { from: /^main\//, may: /^(main|app)\/|^simulator\/index\.ts$|^(node:.*|serialport|modbus-serial|ws|sirv|zod|papaparse|fflate)$/ },
]

const layers = ['app', 'main', 'renderer', 'simulator']
const root = new URL('..', import.meta.url).pathname

/** The imports of one file that no row allows, as "file -> target". */
function forbidden(file: string, imports: readonly Import[]): string[] {
  const row = mayImport.find((r) => r.from.test(file))
  const allowed = (i: Import) => row !== undefined && (row.may.test(i.target) || (i.typeOnly && row.types?.test(i.target) === true))
  return imports.filter((i) => !allowed(i)).map((i) => `${file} -> ${i.target}${i.typeOnly ? ' (types)' : ''}`)
}

const inSource = (file: string, source: string) => forbidden(file, importsOf(file, source))

describe('layers', () => {
  const files = globSync(
    layers.map((layer) => `${layer}/**/*.{ts,tsx,js,jsx,mts,cts,mjs,cjs}`),
    { cwd: root },
  ).sort()

  it.each(layers)('finds source files in %s', (layer) => {
    expect(files.filter((file) => file.startsWith(`${layer}/`))).not.toEqual([])
  })

  it('every import goes along an arrow of the table', () => {
    expect(files.flatMap((file) => forbidden(file, importsInFile(root, file)))).toEqual([])
  })
})

describe('the rule catches', () => {
  it.each([
    ['Node in the core', 'app/bridge/x.ts', `import { readFileSync } from 'node:fs'`],
    ['the exact-number library outside its one file', 'app/scaling/x.ts', `import Fraction from 'fraction.js'`],
    ['the core reaching outwards', 'app/job/x.ts', `import { bus } from '../../main/bus/bus.ts'`],
    ['the renderer touching a port', 'renderer/x.tsx', `import { SerialPort } from 'serialport'`],
    ['the renderer reaching the host', 'renderer/parts/x.tsx', `import { a } from '../../main/serve.ts'`],
    ['the simulator sharing the codec', 'simulator/x.ts', `import { decode } from '../app/profile/codec.ts'`],
    ['the simulator using the host', 'simulator/x.ts', `import type { Link } from '../main/bus/request.ts'`],
    ['a side door into the simulator', 'main/practice/x.ts', `import { cell } from '../../simulator/cell.ts'`],
    ['electron outside the shell', 'main/files/x.ts', `import { app } from 'electron'`],
    ['electron as types outside its two files', 'main/electron/window.ts', `import type { App } from 'electron'`],
    ['a test imported by the product', 'main/x.ts', `import { bench } from '../test/bench/start.ts'`],
    ['an unlisted package', 'main/x.ts', `import ky from 'ky'`],
  ])('%s', (_name, file, source) => {
    expect(inSource(file, source)).toHaveLength(1)
  })

  it.each([
    ['side effect', `import '../../main/x.ts'`],
    ['re-export', `export { a } from '../../main/x.ts'`],
    ['re-export of all', `export * from '../../main/x.ts'`],
    ['re-export of a type', `export type { A } from '../../main/x.ts'`],
    ['dynamic import', `const a = await import('../../main/x.ts')`],
    ['dynamic import with a template', 'const a = await import(`../../main/x.ts`)'],
    ['computed dynamic import', `const a = await import(name)`],
    ['import in a type', `type A = import('../../main/x.ts').A`],
    ['require', `const a = require('../../main/x.ts')`],
    ['import = require', `import a = require('../../main/x.ts')`],
  ])('a forbidden target behind: %s', (_name, source) => {
    expect(inSource('app/job/x.ts', source)).toHaveLength(1)
  })

  it('and lets pass what the table allows', () => {
    expect(inSource('app/quantity/exact.ts', `import Fraction from 'fraction.js'; import { a } from './decimal-text.ts'`)).toEqual([])
    expect(
      inSource(
        'simulator/x.ts',
        `import type { Quantity } from '../app/quantity/unit.ts'; import { profile } from '../app/profile/schema.ts'`,
      ),
    ).toEqual([])
    expect(inSource('main/practice/x.ts', `import { startBench } from '../../simulator/index.ts'`)).toEqual([])
    expect(inSource('app/job/x.ts', `const text = "import x from 'node:fs'" // import 'node:net'`)).toEqual([])
  })

  it('an import whose names are types but which still loads the module', () => {
    expect(inSource('simulator/x.ts', `import { type A } from '../app/quantity/unit.ts'`)).toHaveLength(1)
    expect(inSource('simulator/x.ts', `import type { A } from '../app/quantity/unit.ts'`)).toEqual([])
  })
})
