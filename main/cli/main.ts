import { CommanderError } from 'commander'
import { exitCode } from './exit-codes.ts'
import { buildProgram } from './program.ts'

try {
  await buildProgram().parseAsync()
} catch (cause) {
  if (!(cause instanceof CommanderError)) throw cause
  process.exitCode = cause.exitCode === 0 ? exitCode.done : exitCode.usage
}
