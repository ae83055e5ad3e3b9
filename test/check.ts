import { spawn } from 'node:child_process'
import { existsSync, globSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { delimiter, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { readProfile } from '../app/profile/read-profile.ts'
import { importsInFile } from './imports.ts'
import { notRunMark } from './skip-reporter.ts'
import { addCounts, type Counts, closingLine, readCounts } from './test-counts.ts'

/** Everything that must hold before a change is offered, as one command. Each stage runs, whatever became of the ones before it. */
type Outcome = { ok: boolean; output: string; counts?: Counts; notRun?: readonly string[] }
type Stage = { name: string; run(): Promise<Outcome> }

const root = fileURLToPath(new URL('..', import.meta.url))
const reports = mkdtempSync(join(tmpdir(), 'spanwright-check-'))
const { FORCE_COLOR: _, ...inherited } = process.env
const environment = { ...inherited, NO_COLOR: '1', PATH: `${join(root, 'node_modules', '.bin')}${delimiter}${process.env['PATH'] ?? ''}` }

function run(program: string, args: readonly string[]): Promise<Outcome> {
  return new Promise((settle) => {
    const chunks: Buffer[] = []
    const child = spawn(program, args, { cwd: root, env: environment, shell: process.platform === 'win32' })
    child.stdout.on('data', (chunk: Buffer) => chunks.push(chunk))
    child.stderr.on('data', (chunk: Buffer) => chunks.push(chunk))
    const text = () => Buffer.concat(chunks).toString('utf8').trim()
    child.on('error', (problem) => settle({ ok: false, output: `${program} could not be started: ${problem.message}` }))
    child.on('close', (code, signal) => {
      const ended = code === 0 ? '' : `\n${program} ended with ${signal ?? `exit code ${code}`}.`
      settle({ ok: code === 0, output: `${text()}${ended}` })
    })
  })
}

async function runTests(config: string): Promise<Outcome> {
  const report = join(reports, `${config}.json`)
  const outcome = await run('vitest', [
    'run',
    ...[
      '--config',
      config,
      '--reporter',
      'dot',
      '--reporter',
      'json',
      '--outputFile.json',
      report,
      '--reporter',
      './test/skip-reporter.ts',
    ],
  ])
  const notRun = outcome.output.split('\n').filter((line) => line.startsWith(notRunMark))
  const counts = readCounts(report)
  if (!counts) return { ...outcome, ok: false, output: `${outcome.output}\nNo test report was written.` }
  // A run in which nothing passed proves nothing.
  const ranNothing = counts.passed === 0
  return { ok: outcome.ok && !ranNothing, counts, notRun, output: ranNothing ? `${outcome.output}\nNo test passed.` : outcome.output }
}

async function checkNode(): Promise<Outcome> {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
  const ok = major >= 24 || (major === 22 && minor >= 18)
  return { ok, output: ok ? '' : `Node 22.18 or newer is needed; this is ${process.versions.node}. Run "npm ci", then "npm test".` }
}

async function checkProfiles(): Promise<Outcome> {
  const files = globSync('app/profiles/*.profile.json', { cwd: root })
  const problems = files.flatMap((file) => {
    try {
      const read = readProfile(JSON.parse(readFileSync(join(root, file), 'utf8')))
      return read.ok ? [] : read.failure.problems.map((p) => `${file}: ${p.path}: ${p.message}`)
    } catch (problem) {
      return [`${file}: ${String(problem)}`]
    }
  })
  return { ok: files.length > 0 && problems.length === 0, output: files.length === 0 ? 'No profile was found.' : problems.join('\n') }
}

/** Builds what the window runs, and looks whether it could start: every file in its place, nothing imported that a package would lack. */
async function checkWindowBuild(): Promise<Outcome> {
  const built = await run('electron-vite', ['build', '--logLevel', 'warn'])
  if (!built.ok) return built
  const { dependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { dependencies: Record<string, string> }
  const packaged = (target: string) => target.startsWith('node:') || target === 'electron' || target in dependencies
  const lacking = [
    ...['out/main/index.js', 'out/preload/preload.cjs', 'out/renderer/index.html'].filter((file) => !existsSync(join(root, file))),
    ...importsInFile(root, 'out/main/index.js').flatMap(({ target }) => (packaged(target) ? [] : [`out/main/index.js imports ${target}`])),
    ...importsInFile(root, 'out/preload/preload.cjs').flatMap(({ target }) =>
      target === 'electron' ? [] : [`the preload imports ${target}`],
    ),
  ]
  return { ok: lacking.length === 0, output: lacking.map((what) => `Not as it must be: ${what}`).join('\n') }
}

/** A check must leave nothing behind that is not ignored. Without a repository there is nothing to compare with, and it says so. */
async function checkCleanTree(): Promise<Outcome> {
  const status = await run('git', ['status', '--porcelain'])
  if (!status.ok) return { ok: true, output: '', notRun: [`${notRunMark}clean tree (${status.output.split('\n')[0]})`] }
  return { ok: status.output === '', output: status.output }
}

const stages: Stage[] = [
  { name: 'node version', run: checkNode },
  { name: 'types', run: () => run('tsc', ['-b']) },
  { name: 'lint and format', run: () => run('biome', ['check', '.']) },
  { name: 'unused code', run: () => run('knip', []) },
  { name: 'profiles', run: checkProfiles },
  { name: 'window build', run: checkWindowBuild },
  { name: 'page build', run: () => run('vite', ['build', 'renderer']) },
  { name: 'tests', run: () => runTests('vitest.config.ts') },
  { name: 'browser tests', run: () => runTests('vitest.e2e.config.ts') },
  ...(process.env['CI'] === 'true' ? [{ name: 'clean tree', run: checkCleanTree }] : []),
]

const failed: string[] = []
const notRun: string[] = []
let counts: Counts = { passed: 0, failed: 0, skipped: 0 }
for (const stage of stages) {
  const began = performance.now()
  const outcome = await stage.run()
  const seconds = ((performance.now() - began) / 1000).toFixed(1)
  const tests = outcome.counts ? `  ${closingLine(outcome.counts)}` : ''
  console.log(`${outcome.ok ? 'ok    ' : 'FAILED'}  ${stage.name.padEnd(16)} ${seconds.padStart(6)} s${tests}`)
  if (!outcome.ok) {
    failed.push(stage.name)
    // What did not run is listed once, at the end.
    const lines = outcome.output.split('\n').filter((line) => !line.startsWith(notRunMark))
    console.log(`${lines.join('\n')}\n`)
  }
  notRun.push(...(outcome.notRun ?? []))
  if (outcome.counts) counts = addCounts(counts, outcome.counts)
}
rmSync(reports, { recursive: true, force: true })

for (const line of notRun) console.log(line)
console.log(failed.length === 0 ? 'All stages passed.' : `Failed: ${failed.join(', ')}.`)
console.log(closingLine(counts))
process.exitCode = failed.length === 0 ? 0 : 1
