import { CommanderError } from 'commander'
import { describeDiskProblem } from '../files/disk-problem.ts'
import { exitCode } from './exit-codes.ts'
import { buildProgram } from './program.ts'

// A reader that has gone is no reason to fall over, in the middle of a write least of all.
process.stderr.on('error', () => {})
process.stdout.on('error', (problem: NodeJS.ErrnoException) => {
  if (problem.code === 'EPIPE') return
  console.error(`The output could not be written: ${describeDiskProblem(problem)}`)
  process.exitCode = exitCode.failed
})

try {
  await buildProgram().parseAsync()
} catch (cause) {
  if (!(cause instanceof CommanderError)) throw cause
  process.exitCode = cause.exitCode === 0 ? exitCode.done : exitCode.usage
}
