import { join, resolve } from 'node:path'
import { expect, it } from 'vitest'
import { jobArgument } from '../../../main/electron/job-argument.ts'

it('takes the job that is named', () => {
  expect(jobArgument(['--job', 'site.job.json'], '/home/user')).toEqual({ jobPath: resolve('site.job.json'), practice: false })
})

it('opens the practice job where none is named, whatever switches the runtime adds', () => {
  const practice = { jobPath: join('/home/user', '.spanwright', 'practice.job.json'), practice: true }
  expect(jobArgument([], '/home/user')).toEqual(practice)
  expect(jobArgument(['--no-sandbox', '--job'], '/home/user')).toEqual(practice)
})
