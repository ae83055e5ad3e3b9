import { type Command, Option } from 'commander'
import { openBus } from '../bus/open-bus.ts'
import { failed, failedBy } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { formatOf, type LinkOptions, linkBy, withLinkOptions } from './link-options.ts'
import { wholeNumber } from './numbers.ts'
import { type Around, describeCommand, run } from './run-command.ts'

type Options = LinkOptions & { unit: number; from: number; count: number; table: 'holding' | 'input' }

export function addRegisters(program: Command): void {
  describeCommand(
    withLinkOptions(program.command('registers').description('a raw block of registers as words; only reads'))
      .requiredOption('--unit <address>', 'Modbus address', wholeNumber(0, 255))
      .requiredOption('--from <address>', 'zero-based address of the first register, e.g. 12 or 0x000c', wholeNumber(0, 0xffff))
      .option('--count <number>', 'how many registers', wholeNumber(1, 125), 1)
      .addOption(new Option('--table <which>', 'which registers').choices(['holding', 'input']).default('holding')),
    [
      'registers --link serial:/dev/ttyUSB0 --baud 9600 --unit 1 --from 0 --count 10',
      'registers --link modbus-tcp:192.168.0.10:502 --unit 1 --from 0x10 --count 4 --table input --json',
    ],
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
    if (!outcome.ok) return failedBy(outcome.failure)
    if (outcome.value.kind !== 'words') return failed({ why: 'The unit answered, but with no registers.' })
    const { words } = outcome.value
    return {
      exit: exitCode.done,
      lines: [
        'address   hex     unsigned  signed',
        ...words.map((word, i) => {
          const signed = word > 0x7fff ? word - 0x10000 : word
          return `${String(from + i).padStart(7)}   ${word.toString(16).padStart(4, '0')}  ${String(word).padStart(10)}  ${String(signed).padStart(6)}`
        }),
      ],
      json: { ok: true, unit, table, from, words },
    }
  } finally {
    await opened.value.close()
  }
}
