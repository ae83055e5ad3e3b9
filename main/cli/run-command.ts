import type { Command } from 'commander'
import type { CommandEnd } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { type Interrupts, watchInterrupts } from './interrupts.ts'
import type { JsonOutput } from './json-outputs.ts'
import { type Progress, showProgress } from './progress.ts'

export type Around = {
  interrupts: Interrupts
  progress: Progress
  json: boolean
  /** One finding at once, where there are many: a line for people, a line of JSON for programs. */
  emit(line: string, json: unknown): void
  /** For people only, whatever the output is. */
  note(line: string): void
}

type Given = { json?: boolean }

/** Makes a command of a function that gives its end: prints it, sets the exit code, and lets Ctrl-C end it in order. */
export function run<O extends Given>(work: (options: O, around: Around, names: string[]) => Promise<CommandEnd | null>) {
  return async (...given: unknown[]): Promise<void> => {
    const command = given.at(-1) as Command
    const options = command.optsWithGlobals() as O
    const interrupts = watchInterrupts()
    const progress = showProgress()
    const json = options.json === true
    const around: Around = {
      interrupts,
      progress,
      json,
      emit: (line, value) => progress.aside(() => console.log(json ? JSON.stringify(value) : line)),
      note: (line) => progress.aside(() => console.error(line)),
    }
    try {
      const end = await work(options, around, command.args)
      progress.end()
      if (end) print(end, json)
      process.exitCode = end?.exit ?? process.exitCode ?? exitCode.done
      if (interrupts.pressed() && end) process.exitCode = exitCode.interrupted
    } finally {
      progress.end()
      interrupts.close()
    }
  }
}

function print(end: CommandEnd, json: boolean): void {
  if (json) console.log(JSON.stringify(end.json, null, 2))
  else if (end.exit === exitCode.done || end.exit === exitCode.differs) for (const line of end.lines) console.log(line)
  else for (const line of end.lines) console.error(line)
}

const published = new WeakMap<Command, readonly JsonOutput[]>()

/** The schemas of what a command prints with `--json`. */
export const schemasOf = (command: Command): readonly JsonOutput[] => published.get(command) ?? []

/** `--json` with the schemas of what it prints, and the examples that every command has. */
export function describeCommand(command: Command, examples: readonly string[], ...schemas: [JsonOutput, ...JsonOutput[]]): Command {
  published.set(command, schemas)
  return command
    .option('--json', `print JSON for programs instead of text; its form: ${schemas.map((s) => `spanwright schema ${s}`).join(', ')}`)
    .addHelpText('after', `\nExamples:\n${examples.map((e) => `  spanwright ${e}`).join('\n')}`)
}
