import { type Command, InvalidArgumentError, Option } from 'commander'
import type { BusFailure } from '../../app/contract/bus-failure.ts'
import { type Candidate, viewRegisters } from '../../app/profile/register-view.ts'
import { decimalText } from '../../app/quantity/decimal-text.ts'
import { openBus } from '../bus/open-bus.ts'
import { type CommandEnd, failed, failedBy } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { formatOf, type LinkOptions, linkBy, withLinkOptions } from './link-options.ts'
import { wholeNumber } from './numbers.ts'
import { type Around, describeCommand, run } from './run-command.ts'

type Options = LinkOptions & { unit: number; from: number; count: number; table: 'holding' | 'input'; display?: string }

export function addRegisters(program: Command): void {
  describeCommand(
    withLinkOptions(
      program.command('registers').description('a raw block of registers, its words in every type and order side by side; only reads'),
    )
      .requiredOption('--unit <address>', 'Modbus address', wholeNumber(0, 255))
      .requiredOption('--from <address>', 'zero-based address of the first register, e.g. 12 or 0x000c', wholeNumber(0, 0xffff))
      .option('--count <number>', 'how many registers', wholeNumber(1, 125), 1)
      .addOption(new Option('--table <which>', 'which registers').choices(['holding', 'input']).default('holding'))
      .option('--display <value>', 'what the front panel shows now: only what agrees with it is listed', (text) => {
        if (!decimalText.safeParse(text).success) throw new InvalidArgumentError('A decimal number with a point is needed.')
        return text
      }),
    [
      'registers --link serial:/dev/ttyUSB0 --baud 9600 --unit 1 --from 0 --count 10',
      'registers --link serial:/dev/ttyUSB0 --unit 1 --from 0 --count 60 --display 12.5',
      'registers --link modbus-tcp:192.168.0.10:502 --unit 1 --from 0x10 --count 4 --table input --json',
    ],
    'registers',
  ).action(run(registers))
}

/** An indicator that nothing is known of is given this long, in ms. */
const answerMs = 1_000

async function registers(options: Options, { interrupts, progress }: Around) {
  const { unit, table, from, count } = options
  progress.say('Opening the bus and listening for another master')
  const opened = await openBus({ link: linkBy(options.link, formatOf(options)) })
  if (!opened.ok) return failedBy(opened.failure)
  try {
    const { signal } = interrupts
    const request = { kind: 'read-registers', table, address: from, count } as const
    const outcome = await opened.value.request(unit, request, { priority: 'user', answerMs, signal })
    if (!outcome.ok) return withHint(failedBy(outcome.failure), outcome.failure, from, count)
    if (outcome.value.kind !== 'words') return failed({ why: 'The unit answered, but with no registers.' })
    const { words } = outcome.value
    const { display } = options
    const all = display === undefined ? viewRegisters(from, words, undefined, [0]) : viewRegisters(from, words, display)
    const candidates = display === undefined ? all : all.filter((c) => c.agrees !== 'no')
    return {
      exit: exitCode.done,
      lines: options.display === undefined ? sideBySide(from, words, candidates) : agreeingLines(options.display, candidates),
      json: { ok: true, unit, table, from, words, candidates },
    }
  } finally {
    await opened.value.close()
  }
}

/** A block is refused whole where one of its addresses is not there (MODBUS Application Protocol V1.1b3, section 7, exception 2). */
const withHint = (end: CommandEnd, failure: BusFailure, from: number, count: number): CommandEnd =>
  failure.kind === 'refused' && failure.code === 2 && count > 1
    ? {
        ...end,
        lines: [...end.lines, `At least one address from ${from} to ${from + count - 1} is not there; ask for fewer at once with --count.`],
      }
    : end

const columns = ['u16 AB', 'i16 AB', 'i32 ABCD', 'i32 CDAB', 'f32 ABCD', 'f32 CDAB'] as const

/** The usual ways for people; `--json` has all of them. */
function sideBySide(from: number, words: readonly number[], candidates: readonly Candidate[]): string[] {
  const cell = (address: number, column: string) =>
    candidates.find((c) => c.address === address && `${c.type} ${c.order}` === column)?.text ?? '-'
  return [
    `address   hex ${columns.map((c) => c.padStart(14)).join('')}`,
    ...words.map((word, i) => {
      const cells = columns.map((c) =>
        cell(from + i, c)
          .slice(0, 13)
          .padStart(14),
      )
      return `${String(from + i).padStart(7)}  ${word.toString(16).padStart(4, '0')}${cells.join('')}`
    }),
  ]
}

const agreeingLines = (display: string, candidates: readonly Candidate[]): string[] =>
  candidates.length === 0
    ? [`Nothing here agrees with ${display}.`]
    : candidates.map(
        (c) =>
          `${String(c.address).padStart(7)}  ${c.type} ${c.order}${c.decimals === undefined ? '' : `, ${c.decimals} decimals`}: ${c.text} (${c.agrees})`,
      )
