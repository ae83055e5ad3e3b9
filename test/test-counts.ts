import { existsSync, readFileSync } from 'node:fs'

/** What a test run came to. */
export type Counts = { passed: number; failed: number; skipped: number }

type Report = {
  testResults: readonly {
    name: string
    status: string
    message?: string
    assertionResults: readonly { status: string; fullName: string }[]
  }[]
}

/** Counts of one vitest JSON report. A file that broke before its tests began counts as one failure. */
export function countReport(report: Report): Counts {
  const tests = report.testResults.flatMap((file) => file.assertionResults)
  const broken = report.testResults.filter((file) => file.status === 'failed' && !file.assertionResults.some((t) => t.status === 'failed'))
  return {
    passed: tests.filter((t) => t.status === 'passed').length,
    failed: tests.filter((t) => t.status === 'failed').length + broken.length,
    skipped: tests.filter((t) => t.status !== 'passed' && t.status !== 'failed').length,
  }
}

export const readCounts = (path: string): Counts | undefined =>
  existsSync(path) ? countReport(JSON.parse(readFileSync(path, 'utf8')) as Report) : undefined

export const addCounts = (a: Counts, b: Counts): Counts => ({
  passed: a.passed + b.passed,
  failed: a.failed + b.failed,
  skipped: a.skipped + b.skipped,
})

export const closingLine = ({ passed, failed, skipped }: Counts): string =>
  `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`
