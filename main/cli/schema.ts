import type { Command } from 'commander'
import { z } from 'zod'
import { misused } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { type JsonOutput, jsonOutputs } from './json-outputs.ts'
import { describeCommand, run } from './run-command.ts'

export function addSchema(program: Command): void {
  const names = Object.keys(jsonOutputs)
  describeCommand(
    program
      .command('schema')
      .argument('[name]', names.join(', '))
      .description('the JSON Schema of what a command prints with --json; without a name, the names there are'),
    ['schema', 'schema settings-write'],
    'schema',
  ).action(
    run(async (_options, _around, [name]) => {
      if (name === undefined) return { exit: exitCode.done, lines: names, json: { ok: true, names } }
      if (!Object.hasOwn(jsonOutputs, name)) return misused(`There is no schema "${name}". There are: ${names.join(', ')}.`)
      const schema = z.toJSONSchema(jsonOutputs[name as JsonOutput])
      return { exit: exitCode.done, lines: [JSON.stringify(schema, null, 2)], json: schema }
    }),
  )
}
