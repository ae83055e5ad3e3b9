import type { Browser } from 'playwright-core'
import { practiceJobOf } from '../../main/practice/practice-bins.ts'
import { openWorkbench } from '../e2e/open-workbench.ts'
import type { Stage } from './screens.ts'

/** A page on a practice bench of so many points, somebody named, loads on, and a few seconds gone by. */
export async function openStage(browser: Browser, points: number): Promise<{ stage: Stage; close(): Promise<void> }> {
  const job = practiceJobOf(points)
  const { page, practice, close } = await openWorkbench(browser, { job })
  for (const [i, { id, maximumLoad }] of job.points.entries())
    await practice.host.call('practice.load', { pointId: id, load: String(Math.round(Number(maximumLoad) * (0.2 + ((i * 7) % 10) / 20))) })
  return { stage: { page, call: practice.host.call, points: job.points }, close }
}
