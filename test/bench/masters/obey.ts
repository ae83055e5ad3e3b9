import { createInterface } from 'node:readline'
import type { MasterReport, MasterTask } from './master-process.ts'

/** Carries out the tasks that come in, one a line, and reports on each. */
export async function obey(run: (task: MasterTask) => Promise<{ answered: number; failed: number }>): Promise<void> {
  console.log('ready')
  for await (const line of createInterface({ input: process.stdin })) {
    const cpu = process.cpuUsage()
    const began = performance.now()
    const counts = await run(JSON.parse(line) as MasterTask)
    const { user, system } = process.cpuUsage(cpu)
    const report: MasterReport = { ...counts, elapsedMs: performance.now() - began, cpuMs: (user + system) / 1000 }
    console.log(JSON.stringify(report))
  }
}
