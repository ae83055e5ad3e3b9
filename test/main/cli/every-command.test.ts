import { readFileSync } from 'node:fs'
import type { Command } from 'commander'
import { describe, expect, it } from 'vitest'
import { exitCode } from '../../../main/cli/exit-codes.ts'
import { jsonOutputs } from '../../../main/cli/json-outputs.ts'
import { buildProgram } from '../../../main/cli/program.ts'
import { schemasOf } from '../../../main/cli/run-command.ts'

type Leaf = { path: string; command: Command }

/** Commands that do something, with all their words. */
const leavesOf = (command: Command, words: readonly string[] = []): Leaf[] =>
  command.commands.length === 0 ? [{ path: words.join(' '), command }] : command.commands.flatMap((c) => leavesOf(c, [...words, c.name()]))

function helpOf(command: Command): string {
  let text = ''
  command.configureOutput({ writeOut: (part) => (text += part) })
  command.outputHelp()
  return text
}

/** Arguments as a shell would give them; what is redirected is the shell's. */
const wordsOf = (line: string) => [...(line.split(' > ')[0] ?? '').matchAll(/"([^"]*)"|(\S+)/g)].map((m) => m[1] ?? m[2] ?? '')

const examplesOf = (help: string): string[][] =>
  (help.split('Examples:\n')[1] ?? '')
    .split('\n')
    .filter((line) => line.startsWith('  spanwright '))
    .map((line) => wordsOf(line).slice(1))

const all = leavesOf(buildProgram())
const paths = all.map((l) => l.path)

it('there are the commands that are documented', () => {
  expect(paths).toEqual(expect.arrayContaining(['demo', 'settings write', 'entry-sheet', 'import-points', 'break-seal', 'profile check']))
})

describe.each(all)('$path', ({ path, command }) => {
  it('has --json, and its help names the published schemas of what it prints', () => {
    expect(command.options.map((o) => o.long)).toContain('--json')
    const schemas = schemasOf(command)
    expect(schemas[0]).toBe(path.replaceAll(' ', '-'))
    const help = helpOf(command).replace(/\s+/g, ' ')
    for (const schema of schemas) expect(help).toContain(`spanwright schema ${schema}`)
  })

  it('has examples, each of which is a right command line of this very command', async () => {
    const examples = examplesOf(helpOf(command))
    expect(examples.length).toBeGreaterThan(0)
    for (const example of examples) {
      const reached: string[] = []
      const program = buildProgram()
      program.configureOutput({ writeErr: () => {} })
      for (const leaf of leavesOf(program)) leaf.command.action(() => void reached.push(leaf.path))
      await program.parseAsync(example, { from: 'user' })
      expect(reached, example.join(' ')).toEqual([path])
    }
  })
})

it('publishes no schema but those that a command prints, and that of a failure', () => {
  const printed = all.flatMap(({ command }) => schemasOf(command))
  expect(Object.keys(jsonOutputs).sort()).toEqual(['failure', ...printed].sort())
})

it('gives the exit codes that README and help list, and no other', () => {
  const readme = readFileSync(new URL('../../../README.md', import.meta.url), 'utf8')
  const listed = [...readme.matchAll(/^\| (\d+) +\| /gm)].map((row) => Number(row[1]))
  const codes: number[] = Object.values(exitCode)
  expect(listed).toEqual(codes)
  const help = helpOf(buildProgram())
  expect([...(help.split('Exit codes:')[1] ?? '').matchAll(/\d+/g)].map((n) => Number(n[0]))).toEqual(codes)
})
