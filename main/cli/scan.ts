import { type Command, InvalidArgumentError } from 'commander'
import type { SerialFormat } from '../../app/profile/schema.ts'
import { openBus } from '../bus/open-bus.ts'
import { longestScanMs, planScan, type ScanFound, scan } from '../bus/scan.ts'
import { usualBauds, usualShapes } from '../bus/usual-formats.ts'
import { ended, failedBy } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { formatOf, type LinkOptions, linkBy, withLinkOptions } from './link-options.ts'
import { wholeNumber } from './numbers.ts'
import { profileBy } from './profile-by.ts'
import { type Around, describeCommand, run } from './run-command.ts'

type Options = LinkOptions & { units: number[]; profile?: string; answerMs: number }

/** As the bus does it on serial lines; a Modbus TCP connection has one master by itself. */
const listenMs = 2_000

function units(text: string): number[] {
  const list = text.split(',').flatMap((part) => {
    const [, from, to] = /^(\d{1,3})(?:-(\d{1,3}))?$/.exec(part) ?? []
    const [low, high] = [Number(from), Number(to ?? from)]
    if (from === undefined || low < 1 || high > 247 || low > high)
      throw new InvalidArgumentError('Addresses from 1 to 247 are needed, e.g. 1-32 or 1,5,20-30.')
    return Array.from({ length: high - low + 1 }, (_, i) => low + i)
  })
  return [...new Set(list)]
}

export function addScan(program: Command): void {
  describeCommand(
    withLinkOptions(program.command('scan').description('looks for units on a line; only reads. Says beforehand how long it takes at most'))
      .option('--units <addresses>', 'which addresses, e.g. 1-32 or 1,5,20-30', units, units('1-247'))
      .option('--profile <id or file>', 'the indicator expected: its default format and address come first')
      .option('--answer-ms <time>', 'how long a unit may take to begin its answer', wholeNumber(10, 10_000), 200),
    [
      'scan --link serial:/dev/ttyUSB0 --units 1-32',
      'scan --link serial:/dev/ttyUSB0 --baud 9600 --parity none --stop-bits 1',
      'scan --link modbus-tcp:192.168.0.10:502 --json',
    ],
    'scan',
  ).action(run(runScan))
}

async function runScan(options: Options, around: Around) {
  const expected = options.profile === undefined ? undefined : profileBy(options.profile)
  if (expected && !expected.ok) return ended(exitCode.usage, { why: expected.failure, where: '--profile' })
  const isSerial = options.link.kind === 'serial'
  const { serial } = expected?.value ?? {}
  const first = serial && {
    unit: serial.unit,
    format: isSerial ? { baud: serial.baud, parity: serial.parity, stopBits: serial.stopBits } : formatOf(options),
  }
  const stages = planScan({ formats: isSerial ? formats(options) : [formatOf(options)], units: options.units, ...(first ? { first } : {}) })
  const listens = options.link.kind === 'modbus-tcp' ? 0 : listenMs
  const atMostMs = Math.ceil(longestScanMs(stages, { listenMs: listens, answerMs: options.answerMs }))
  const asks = stages.reduce((sum, s) => sum + s.units.length, 0)
  around.note(`${asks} requests in ${stages.length} steps, only reads: ${duration(atMostMs)} at most on a quiet line. Ctrl-C ends it.`)

  const describe = (format: SerialFormat) => (isSerial ? ` at ${format.baud} ${format.parity} ${format.stopBits}` : '')
  const foundLine = ({ unit, format, tookMs }: ScanFound) =>
    `unit ${unit}${describe(format)}: ${tookMs === null ? 'answers, and refuses register 0' : `answers in ${Math.round(tookMs)} ms`}`
  const { found, unclear, asked, endedBy } = await scan(stages, {
    open: (format) => openBus({ link: linkBy(options.link, format) }, { listenMs: listens }),
    answerMs: options.answerMs,
    listenMs: listens,
    signal: around.interrupts.signal,
    onAsk: (n, of, unit, format) => around.progress.say(`${n} of ${of}: unit ${unit}${describe(format)}`),
    onFound: (one) => {
      if (!around.json) around.emit(foundLine(one), one)
    },
  })
  if (endedBy && endedBy.kind !== 'stopped') return failedBy(endedBy)
  const shown = <T extends { format: SerialFormat }>(one: T) => (isSerial ? one : { ...one, format: null })
  return {
    exit: exitCode.done,
    lines: [
      // Those found stand there already, each from when it answered.
      ...(found.length > 0 ? [] : ['No unit answered.']),
      ...unclear.map((u) => `unit ${u.unit}${describe(u.format)}: something answers, but not soundly`),
      ...(endedBy ? [`Ended early, after ${asked} of ${asks} requests.`] : []),
    ],
    json: {
      ok: true,
      atMostMs,
      asked,
      of: asks,
      complete: endedBy === null,
      found: found.map(({ profileIds: _notAskedFor, ...one }) => shown(one)),
      unclear: unclear.map(shown),
    },
  }
}

/** What is stated is fixed; the rest is tried in all ways. */
const formats = ({ baud, parity, stopBits }: LinkOptions): SerialFormat[] =>
  (baud === undefined ? usualBauds : [baud]).flatMap((rate) =>
    (parity === undefined && stopBits === undefined
      ? usualShapes
      : parity !== undefined && stopBits !== undefined
        ? [{ parity, stopBits }]
        : usualShapes.filter((s) => s.parity === (parity ?? s.parity) && s.stopBits === (stopBits ?? s.stopBits))
    ).map((shape) => ({ baud: rate, ...shape })),
  )

function duration(ms: number): string {
  const s = Math.ceil(ms / 1000)
  return s < 120 ? `${s} s` : `${Math.ceil(s / 60)} min`
}
