import type { Locator, Page } from 'playwright-core'
import type { Host } from '../../main/host/host.ts'
import { type PlaceId, placeIds } from '../../renderer/places/place-ids.ts'

/** A page on the practice bench, and the host behind it. */
export type Stage = { page: Page; call: Host['call']; points: readonly { id: string; unit: string }[] }

/** One screen as a user comes to it, from a page loaded anew at the table. */
export type Screen = {
  name: string
  /** Not every job has such a point. */
  needs?: 'pressure'
  /** Reached from wherever the page is, by its address alone. */
  byAddress?: true
  open(stage: Stage): Promise<void>
}

const scale = 'wt-101'
const button = (page: Page, name: RegExp | string) => page.getByRole('button', typeof name === 'string' ? { name, exact: true } : { name })

async function openPlace(page: Page, pointId: string, place: PlaceId): Promise<void> {
  await page.evaluate((hash) => {
    location.hash = hash
  }, `${pointId}/${place}`)
  await page.locator(`main.place-${place}`).waitFor()
  if (place !== 'reading') return
  await page.locator('.digits').first().getByText(/\d/).first().waitFor()
}

const dialog = (page: Page) => page.getByRole('dialog')

/** A reading that moved or went stale in the very moment is refused and taken anew, as a person would. */
async function takeReading(page: Page, next: Locator): Promise<void> {
  for (let tries = 1; ; tries++) {
    await button(page, /^Take the reading/).click()
    try {
      return await next.waitFor({ timeout: 5_000 })
    } catch (cause) {
      if (tries === 3) throw cause
    }
  }
}

async function openReview({ page }: Stage): Promise<void> {
  await openPlace(page, scale, 'scaling')
  const review = button(page, /^Review and write \d+ setting/)
  if (!(await review.isVisible())) await button(page, 'Put into intended values').click()
  await review.click()
  await dialog(page)
    .getByRole('button', { name: /^Write \d+ setting/ })
    .waitFor()
}

const placeScreens = (point: (stage: Stage) => string, prefix: string, needs?: 'pressure'): Screen[] =>
  placeIds.map((place) => ({
    name: `${prefix}-${place}`,
    ...(needs ? { needs } : {}),
    byAddress: true as const,
    open: (stage) => openPlace(stage.page, point(stage), place),
  }))

/** All screens, those that change the job last: each leaves behind what the next ones build on. */
export const screens: readonly Screen[] = [
  { name: 'table', open: async () => {} },
  {
    name: 'table-chosen',
    async open({ page, points }) {
      for (const { id } of points.slice(0, 3)) await page.locator(`[type=checkbox][aria-label="Choose ${id.toUpperCase()}"]`).check()
      const trend = button(page, 'Trend')
      if ((await trend.getAttribute('aria-pressed')) !== 'true') await trend.click()
    },
  },
  ...placeScreens(() => scale, 'point'),
  ...placeScreens(({ points }) => points.find((p) => p.unit === 'bar')?.id ?? '', 'pressure', 'pressure'),
  { name: 'buses', open: ({ page }) => button(page, 'Buses').click() },
  { name: 'add', open: ({ page }) => button(page, 'Add…').click() },
  {
    name: 'import',
    async open({ page }) {
      await button(page, 'Add…').click()
      await button(page, 'From a spreadsheet').click()
      await page
        .getByLabel(/^Rows copied from a spreadsheet/)
        .fill('Tag\tDescription\tMax (kg)\td\nWT-901\tDosing bin\t500\t0.1\nWT-902\tDosing bin\tfive\t0.1\n')
      await page.getByRole('table', { name: 'What is not right' }).waitFor()
    },
  },
  { name: 'edit-several', open: ({ page }) => button(page, /^Edit .*…$/).click() },
  { name: 'zero-several', open: ({ page }) => button(page, /^Zero or tare .*…$/).click() },
  { name: 'keys', open: ({ page }) => page.getByRole('button', { name: /^Keys/ }).click() },
  { name: 'log-empty', open: ({ page }) => button(page, 'Log of writes').click() },
  {
    name: 'distance',
    async open({ page }) {
      await page.keyboard.press('d')
      await page.getByRole('region', { name: 'Readings to be read from afar' }).waitFor()
    },
  },
  {
    name: 'distance-one',
    async open({ page }) {
      await openPlace(page, scale, 'reading')
      await page.keyboard.press('d')
      await page.getByRole('region', { name: 'Readings to be read from afar' }).waitFor()
    },
  },
  {
    name: 'describe-begin',
    async open({ page }) {
      await button(page, 'Describe an indicator').click()
      await page.getByLabel('What is it called?').waitFor()
    },
  },
  {
    name: 'describe',
    async open({ page }) {
      await button(page, 'Describe an indicator').click()
      await page.getByLabel('What is it called?').fill('Bagging scale')
      await button(page, 'Begin to describe it').click()
      await page.getByRole('textbox', { name: 'unit' }).fill('1')
      await button(page, 'Look at this unit').click()
      await button(page, 'Look').click()
      await page.getByRole('region', { name: 'Registers' }).getByLabel('the display shows').waitFor()
    },
  },
  {
    name: 'sheet',
    async open({ page }) {
      await openPlace(page, scale, 'check')
      await button(page, 'Open the handover sheet').click()
      await page.frameLocator('iframe').getByText('Practice: simulated').first().waitFor()
    },
  },
  {
    name: 'check-running',
    async open({ page, call }) {
      await call('practice.load', { pointId: scale, load: '0' })
      await openPlace(page, scale, 'check')
      // The first step has none before it to tell that the load from before is still on.
      const chain = page.getByRole('navigation', { name: /^Chain/ })
      await chain.getByText(/^\u2212?[0-4]\.\d kg$/).waitFor()
      await button(page, 'Start the check').click()
      await page.getByText('Step 1 of 3').waitFor()
      await takeReading(page, page.getByText('Step 2 of 3'))
      await call('practice.load', { pointId: scale, load: '500' })
    },
  },
  {
    name: 'check-result',
    async open({ page, call }) {
      await openPlace(page, scale, 'check')
      await takeReading(page, page.getByText('Step 3 of 3'))
      await call('practice.load', { pointId: scale, load: '0' })
      const finish = button(page, 'Finish the check')
      await takeReading(page, finish)
      await finish.click()
      await page.locator('.verdict').waitFor()
    },
  },
  { name: 'review', open: openReview },
  {
    name: 'write-result',
    async open(stage) {
      await openReview(stage)
      await dialog(stage.page)
        .getByRole('button', { name: /^Write \d+ setting/ })
        .click()
      await dialog(stage.page)
        .getByText(/written, read back equal, saved/)
        .first()
        .waitFor()
    },
  },
  {
    name: 'log',
    async open({ page }) {
      await button(page, 'Log of writes').click()
      await dialog(page).getByText('WT-101').first().waitFor()
    },
  },
  {
    name: 'stopped',
    async open({ page }) {
      await openPlace(page, scale, 'reading')
      await page.keyboard.press('Shift+Escape')
      await page.getByText('Sending is stopped.').waitFor()
      await page.locator('.digits .struck').waitFor()
    },
  },
]

/** Back at the table, as after opening the program. */
export async function startAnew(page: Page): Promise<void> {
  await page.evaluate(() => {
    location.hash = ''
    sessionStorage.clear()
  })
  await page.reload()
  await page.getByRole('table').waitFor()
  await page
    .getByText(/\d\s?(kg|bar)$/)
    .first()
    .waitFor()
}
