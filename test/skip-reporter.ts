import type { Reporter, TestModule } from 'vitest/node'

/** Begins every line about a test that did not run. */
export const notRunMark = 'did not run: '

/** Says at the end of a run which tests did not run, and why. A group without a reason of its own is named by its tests. */
export default class SkipReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const skipped = modules.flatMap((module) => [...module.children.allTests('skipped')])
    for (const test of skipped) {
      const result = test.result()
      const note = result.state === 'skipped' ? result.note : undefined
      console.log(`${notRunMark}${test.module.relativeModuleId} > ${test.fullName}${note ? ` (${note})` : ''}`)
    }
  }
}
