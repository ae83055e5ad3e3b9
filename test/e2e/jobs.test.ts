import { randomBytes } from 'node:crypto'
import { linkSync, mkdirSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { describePeers } from '../peers/peer.ts'
import { dropFile } from './drop-file.ts'
import { cell } from './open-page.ts'
import { type OpenProgram, openProgram } from './open-program.ts'

describePeers(['chromium'], 'jobs on screen', ({ chromium }) => {
  let program: OpenProgram
  let page: Page

  beforeAll(async () => {
    program = await openProgram(chromium)
    page = program.page
    await page.getByRole('button', { name: 'Not needed' }).click()
  })
  afterAll(async () => {
    expect(program.complaints).toEqual([])
    await program.close()
  })

  const panel = () =>
    page
      .getByRole('region')
      .filter({ has: page.getByRole('heading', { name: 'Copies' }) })
      .first()
  const openPanel = async () => {
    if (!(await panel().isVisible())) await page.getByRole('banner').getByRole('button').first().click()
    await panel().waitFor()
  }
  const fill = (label: RegExp, path: string) => panel().getByLabel(label).fill(path)
  const press = (name: RegExp | string) =>
    panel()
      .getByRole('button', { name, exact: typeof name === 'string' })
      .first()
      .click()
  const says = (text: RegExp | string) => panel().getByText(text).first().waitFor()
  const jobPath = () => program.host.topics.get('session')?.jobPath ?? ''

  it('a copy is seen to grow and is cancelled, packed or not; nothing half-made is left', async () => {
    const recordings = join(dirname(jobPath()), 'practice.job', 'recordings')
    mkdirSync(recordings, { recursive: true })
    // One file that does not pack, under many names: a minute of packing, without a disk full of it.
    const long = join(recordings, 'long-1.csv')
    writeFileSync(long, randomBytes(20_000_000))
    for (let n = 2; n <= 20; n++) linkSync(long, join(recordings, `long-${n}.csv`))
    const before = readdirSync(program.folder)

    await openPanel()
    await fill(/^One file with everything/, join(program.folder, 'half.zip'))
    await press('Make a bundle')
    await says(/^Packing the bundle: \d+\.\d of 400\.0 MB/)
    await panel().getByRole('progressbar', { name: 'Packing the bundle' }).waitFor()
    await press('Cancel')
    await says('It was cancelled. Nothing was left behind.')
    expect(await panel().getByRole('progressbar').count()).toBe(0)
    expect(readdirSync(program.folder)).toEqual(before)

    const longest = join(recordings, 'longest.csv')
    writeFileSync(longest, '')
    truncateSync(longest, 20_000_000_000)
    await fill(/^Save all of it under another name/, 'half')
    await press('Save as')
    await says(/^Copying the job: \d+\.\d of 20400\.0 MB/)
    await press('Cancel')
    await says('Not done: It was cancelled. Nothing was left behind.')
    expect(readdirSync(join(program.folder, 'jobs'))).toEqual([])
    expect(jobPath()).toMatch(/practice\.job\.json$/)
    rmSync(recordings, { recursive: true })
  })

  it('a job is copied, duplicated, handed on as a bundle that is dropped, brought back, and found again among the recent ones', async () => {
    await openPanel()
    // Before the first change of a sitting an earlier version is kept.
    await fill(/^Site/, 'Shed 3')
    await page.keyboard.press('Enter')
    await expect.poll(() => program.host.topics.get('job')?.site).toBe('Shed 3')
    const bundle = join(program.folder, 'hand-on.zip')
    await fill(/^One file with everything/, bundle)
    await press('Make a bundle')
    await says(/^Made: .*hand-on\.zip/)
    await fill(/^New job after this one/, 'next-year')
    await press('Duplicate')
    await says(/^Made: .*next-year\.job\.json\. It is not open/)
    await fill(/^Save all of it under another name/, 'mill-copy')
    await press('Save as')
    await says(/^This is the copy, .*mill-copy\.job\.json/)
    expect(jobPath()).toMatch(/mill-copy\.job\.json$/)

    await press(/^Bring back the version of/)
    await says(/is back\. Undo takes it back/)
    expect(program.host.topics.get('job')?.site).toBe('Practice bench')
    await press('Feed mill, line 2')
    await panel().waitFor({ state: 'detached' })
    await expect.poll(jobPath).toMatch(/practice\.job\.json$/)
    expect(program.host.topics.get('job')?.site).toBe('Shed 3')
    await openPanel()
    await fill(/^Path of a job/, 'next-year')
    await press('Open')
    await page.getByRole('button', { name: 'Feed mill, line 2, next', exact: true }).waitFor()
    await openPanel()
    await fill(/^New job after this one/, 'year-after')
    await press('Duplicate')
    await press('Open it')
    await expect.poll(jobPath).toMatch(/year-after\.job\.json$/)

    await dropFile(page, 'hand-on.zip', readFileSync(bundle))
    await page.getByText(/^Feed mill, line 2 is open now, kept as/).waitFor()
    await cell(page, 'Reading').getByText(/kg$/).waitFor()
  })

  it('a practice job that is opened again says that its bench is as new', async () => {
    const madeNew = page.getByText('The practice bench is as new again.')
    const here = jobPath()
    await page.getByLabel('Who is at the machine?').fill('A. Tester')
    await page.getByRole('button', { name: 'Start the visit' }).click()
    await page.getByText(/visit .*, A\. Tester/).waitFor()
    expect(await madeNew.count()).toBe(0)

    await program.host.call('job.open', { path: join(program.folder, 'jobs', 'next-year.job.json') })
    await page.getByRole('button', { name: 'Feed mill, line 2, next', exact: true }).waitFor()
    expect(await madeNew.count()).toBe(0)
    await program.host.call('job.open', { path: here })
    await madeNew.waitFor()
    await page.locator('.notice', { has: madeNew }).getByRole('button', { name: 'Dismiss' }).click()
    await madeNew.waitFor({ state: 'detached' })
  })
})
