import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import type { Browser } from 'playwright-core'
import { createJob } from '../../../main/files/job-store.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'

/** Milliseconds since the start of the program. */
export type Start = { addressMs: number; tableMs: number; firstMs: number; allMs: number }

/** From `node main/start.ts` to readings on the page, in a browser that runs already; the page has been built before. */
export async function startTimes(browser: Browser): Promise<Start> {
  const folder = mkdtempSync(join(tmpdir(), 'spanwright-start-'))
  const jobPath = join(folder, 'bench.job.json')
  const job = practiceJob()
  const made = createJob(jobPath, job)
  if (!made.ok) throw new Error(made.failure.why)
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } })
  const page = await context.newPage()
  const began = performance.now()
  const since = () => performance.now() - began
  const program = spawn(process.execPath, ['main/start.ts', '--browser', '--no-open', '--job', jobPath, '--folder', folder], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const ended = once(program, 'exit')
  try {
    const address = await Promise.race([
      addressIn(program.stdout),
      ended.then(() => {
        throw new Error('the program ended before it told an address')
      }),
    ])
    const addressMs = since()
    await page.goto(address)
    await page.getByRole('table').waitFor()
    const tableMs = since()
    const readings = (least: number) =>
      page.waitForFunction(
        (wanted) =>
          [...document.querySelectorAll('button[data-place=reading]')].filter((b) => /\d/.test(b.textContent ?? '')).length >= wanted,
        least,
      )
    await readings(1)
    const firstMs = since()
    await readings(job.points.length)
    return { addressMs, tableMs, firstMs, allMs: since() }
  } finally {
    await context.close()
    program.kill('SIGTERM')
    await ended
    rmSync(folder, { recursive: true, force: true })
  }
}

async function addressIn(output: NodeJS.ReadableStream): Promise<string> {
  for await (const line of createInterface({ input: output })) {
    if (line.startsWith('http://')) return line
  }
  throw new Error('the program told no address')
}
