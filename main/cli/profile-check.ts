import type { Command } from 'commander'
import { exitCode } from './exit-codes.ts'
import { readProfileFile } from './read-profile-file.ts'
import { describeCommand, run } from './run-command.ts'

export function addProfileCheck(program: Command): void {
  const group = program.command('profile').description('descriptions of indicators (*.profile.json)')
  describeCommand(
    group
      .command('check')
      .argument('<file...>', 'profile files')
      .description('checks profiles: the path of each wrong value and what would be right; exit code 1 if any is wrong'),
    ['profile check mine.profile.json', 'profile check --json *.profile.json'],
    'profile-check',
  ).action(
    run(async (_options, _around, names) => {
      const files = names.map((file) => {
        const read = readProfileFile(file)
        return read.ok
          ? { file, ok: true as const, id: read.value.id, name: read.value.name, registers: read.value.registers.length }
          : { file, ok: false as const, problems: read.failure.problems }
      })
      const right = files.every((f) => f.ok)
      return {
        exit: right ? exitCode.done : exitCode.failed,
        lines: files.flatMap((f) =>
          f.ok
            ? [`${f.file}: right (${f.id}, ${f.registers} registers)`]
            : f.problems.map(({ path, message }) => `${f.file}: ${path}: ${message}`),
        ),
        json: { ok: right, files },
      }
    }),
  )
}
