import { mkdirSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { setTimeout as delay } from 'node:timers/promises'
import { parseArgs } from 'node:util'
import { startBrowser } from '../e2e/open-page.ts'
import { findPeer } from '../peers/peer.ts'
import { screens, startAnew } from './screens.ts'
import { openStage } from './theatre.ts'

const { values, positionals } = parseArgs({
  options: {
    points: { type: 'string', default: '1,8,30' },
    sizes: { type: 'string', default: '1280x640,1280x800,1920x1080' },
    only: { type: 'string', default: '' },
  },
  allowPositionals: true,
})
const usage = 'npm run screens -- FOLDER [--only table,point-reading] [--points 1,8,30] [--sizes 1280x640,1280x800,1920x1080]'
const stop = (why: string): never => {
  console.error(`${why}\n${usage}\nScreens: ${screens.map((s) => s.name).join(', ')}`)
  process.exit(2)
}

const [folder = stop('Say which folder the pictures go to.')] = positionals
const list = (text: string) => text.split(',').filter((part) => part !== '')
const unknown = list(values.only).filter((name) => !screens.some((s) => s.name === name))
if (unknown.length > 0) stop(`There is no screen ${unknown.join(', ')}.`)
const sizes = list(values.sizes).map((text) => {
  const [, width, height] = /^(\d{3,4})x(\d{3,4})$/.exec(text) ?? stop(`${text} is no size such as 1280x640.`)
  return { text, width: Number(width), height: Number(height) }
})
const found = findPeer('chromium')
const chromium = found.ok ? found.path : stop(found.why)

const browser = await startBrowser(chromium)
let missed = 0
for (const points of list(values.points).map(Number)) {
  const { stage, close } = await openStage(browser, points)
  const { page } = stage
  for (const screen of screens) {
    if (values.only && !list(values.only).includes(screen.name)) continue
    if (screen.needs === 'pressure' && !stage.points.some((p) => p.unit === 'bar')) continue
    try {
      await page.setViewportSize({ width: 1280, height: 800 })
      await startAnew(page)
      await screen.open(stage)
      // Curves get a moment to show.
      await delay(1_000)
      for (const colorScheme of ['light', 'dark'] as const)
        for (const { text, width, height } of sizes) {
          await page.emulateMedia({ colorScheme })
          await page.setViewportSize({ width, height })
          await delay(250)
          mkdirSync(join(resolve(folder), text), { recursive: true })
          await page.screenshot({ path: join(resolve(folder), text, `${screen.name}-${points}-${colorScheme}.png`) })
        }
      console.log(`${screen.name}, ${points} points`)
    } catch (cause) {
      missed += 1
      console.error(`${screen.name}, ${points} points: not taken. ${cause instanceof Error ? cause.message : String(cause)}`)
    }
  }
  await close()
}
await browser.close()
process.exit(missed > 0 ? 1 : 0)
