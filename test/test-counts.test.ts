import { describe, expect, it } from 'vitest'
import { addCounts, closingLine, countReport } from './test-counts.ts'

const file = (status: string, ...tests: string[]) => ({
  name: 'a.test.ts',
  status,
  assertionResults: tests.map((t) => ({ status: t, fullName: t })),
})

describe('the closing line', () => {
  it('sums what passed, failed and did not run', () => {
    const report = { testResults: [file('passed', 'passed', 'passed', 'pending'), file('failed', 'passed', 'failed', 'todo')] }
    expect(closingLine(countReport(report))).toBe('3 passed, 1 failed, 2 skipped')
  })

  it('counts a file that broke before its tests as failed', () => {
    expect(closingLine(countReport({ testResults: [file('failed'), file('passed', 'passed')] }))).toBe('1 passed, 1 failed')
  })

  it('adds runs', () => {
    expect(closingLine(addCounts({ passed: 1, failed: 2, skipped: 3 }, { passed: 10, failed: 20, skipped: 30 }))).toBe(
      '11 passed, 22 failed, 33 skipped',
    )
  })
})
