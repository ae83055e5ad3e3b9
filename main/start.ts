import { spawn } from 'node:child_process'
import { existsSync, readdirSync, statSync } from 'node:fs'
import { homedir } from 'node:os'
import { join, resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { openHost } from './open-host.ts'
import { ensurePracticeJob } from './practice/open-practice.ts'
import { mostPracticePoints, practiceJobOf } from './practice/practice-bins.ts'
import { serveWeb } from './web/server.ts'

const root = join(import.meta.dirname, '..')
const page = join(root, 'out', 'renderer')

const { values } = parseArgs({
  options: {
    job: { type: 'string' },
    'no-open': { type: 'boolean' },
    browser: { type: 'boolean' },
    port: { type: 'string' },
    folder: { type: 'string' },
    points: { type: 'string' },
  },
})

const ownFolder = values.folder ? resolve(values.folder) : join(homedir(), '.spanwright')
const asked = values.job ? resolve(values.job) : values.points === undefined ? undefined : practiceJobWith(values.points)
await buildWhatIsNeeded()
const window = electronRuntime()
if (window !== null && !values.browser) {
  console.log('Opening the workbench in its own window.')
  const child = spawn(window, [root, ...(asked ? ['--job', asked] : [])], { stdio: 'inherit' })
  child.on('exit', (code) => process.exit(code ?? 0))
} else await openInBrowser(values.browser ? 'as asked' : whyNoWindow())

async function openInBrowser(why: string): Promise<void> {
  const practice = asked === undefined
  const jobPath = asked ?? join(ownFolder, 'practice.job.json')
  const jobs = values.folder ? { userFolder: ownFolder, jobsFolder: join(ownFolder, 'jobs') } : { userFolder: ownFolder }
  const opened = await openHost({ jobPath, shell: 'browser', address: 'browser host', practice, ...jobs })
  if (!opened.ok) {
    console.error(`${opened.failure.where}: ${opened.failure.why}`)
    process.exit(1)
  }
  const { host } = opened.value
  const shell = await serveWeb(host, {
    folder: page,
    port: Number(values.port ?? 0),
    onNewAddress: (url) => console.log(`To open it once more: ${url}`),
  })
  console.log(`The workbench runs in the browser (${why}). This address works once, on this machine only:`)
  console.log(shell.url)
  console.log(`Job: ${jobPath}. Ctrl-C ends it.`)
  if (opened.value.practice?.serialNote) console.log(opened.value.practice.serialNote)
  if (!values['no-open']) showInBrowser(shell.url)
  let ending = false
  const end = () => {
    if (ending) process.exit(1)
    ending = true
    Promise.allSettled([shell.close(), host.close()]).then(() => process.exit(0))
  }
  process.on('SIGINT', end)
  process.on('SIGTERM', end)
  await host.start()
}

/** The practice job with so many points, made where there is none yet. */
function practiceJobWith(typed: string): string {
  const points = Number(typed)
  if (!Number.isInteger(points) || points < 1 || points > mostPracticePoints) {
    console.error(`--points ${typed}: the practice bench takes a whole number from 1 to ${mostPracticePoints}.`)
    process.exit(2)
  }
  const path = join(ownFolder, `practice-${points}.job.json`)
  const made = ensurePracticeJob(path, () => practiceJobOf(points))
  if (made.ok) return path
  console.error(`${made.failure.where}: ${made.failure.why}`)
  process.exit(1)
}

/** Electron's program where it has been downloaded; the npm package alone does not bring it. */
function electronRuntime(): string | null {
  const folder = join(root, 'node_modules', 'electron', 'dist')
  const names: Record<string, string> = { linux: 'electron', win32: 'electron.exe', darwin: 'Electron.app/Contents/MacOS/Electron' }
  const path = join(folder, names[process.platform] ?? 'electron')
  return existsSync(path) && hasDisplay() && existsSync(join(root, 'out', 'main', 'index.js')) ? path : null
}

function hasDisplay(): boolean {
  return process.platform !== 'linux' || Boolean(process.env['DISPLAY'] || process.env['WAYLAND_DISPLAY'])
}

function whyNoWindow(): string {
  if (!existsSync(join(root, 'node_modules', 'electron', 'dist')))
    return "Electron's runtime is not installed, so there is no window of its own"
  return hasDisplay() ? 'the window part has not been built; npm run build does that' : 'there is no display for a window'
}

/** Opens the default browser where there is one; the printed address serves where there is none. */
function showInBrowser(url: string): void {
  if (!hasDisplay()) return
  const [command, ...parameters] =
    process.platform === 'win32' ? ['cmd', '/c', 'start', '', url] : process.platform === 'darwin' ? ['open', url] : ['xdg-open', url]
  const child = spawn(command ?? '', parameters, { stdio: 'ignore', detached: true })
  child.on('error', () => console.log('No browser could be opened from here; open the address yourself.'))
  child.unref()
}

/** The page is built on first start and again when a source is newer than it. */
async function buildWhatIsNeeded(): Promise<void> {
  const built = join(page, 'index.html')
  const sources = ['renderer', 'app'].map((folder) => join(root, folder))
  if (existsSync(built) && sources.every((folder) => newest(folder) <= statSync(built).mtimeMs)) return
  console.log('Building the page (some seconds, once) …')
  const { build } = await import('vite')
  await build({ configFile: join(root, 'renderer', 'vite.config.ts'), logLevel: 'warn' })
}

function newest(folder: string): number {
  return Math.max(0, ...readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((name) => statSync(join(folder, name)).mtimeMs))
}
