import type { Command } from 'commander'
import { describe, expect, it } from 'vitest'
import { jsonOutputs } from '../../../main/cli/json-outputs.ts'
import { buildProgram } from '../../../main/cli/program.ts'

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
  it('has --json with a published schema', () => {
    expect(command.options.map((o) => o.long)).toContain('--json')
    expect(Object.keys(jsonOutputs)).toContain(path.replaceAll(' ', '-'))
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

it('publishes no schema of a command that is not there', () => {
  const known = new Set(['failure', 'set-address-one-by-one', ...paths.map((p) => p.replaceAll(' ', '-'))])
  expect(Object.keys(jsonOutputs).filter((name) => !known.has(name))).toEqual([])
})
