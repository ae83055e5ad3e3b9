import type { Command } from 'commander'
import { demo } from './demo.ts'
import { describeCommand, run } from './run-command.ts'

type Options = { out?: string; json?: boolean }

export function addDemo(program: Command): void {
  describeCommand(
    program
      .command('demo')
      .description('the whole job on the practice bench, in the terminal; exit code 0 only if every step held')
      .option('--out <folder>', 'where the job and the handover sheets are left (a new folder unless given)'),
    ['demo --out ./handover', 'demo --json'],
    'demo',
  ).action(run((options: Options, around) => demo(options, around)))
}
