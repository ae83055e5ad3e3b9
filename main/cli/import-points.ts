import { readFileSync } from 'node:fs'
import { type Command, InvalidArgumentError } from 'commander'
import type { HostCalls } from '../../app/contract/contract.ts'
import { type ColumnMapping, pointField } from '../../app/contract/import-calls.ts'
import { units } from '../../app/quantity/units.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { sheetText } from '../files/csv.ts'
import { describeReadProblem } from '../files/disk-problem.ts'
import type { Host } from '../host/host.ts'
import { type CommandEnd, ended, failed, failedBy, misused } from './command-end.ts'
import { counted } from './counted.ts'
import { exitCode } from './exit-codes.ts'
import { wholeNumber } from './numbers.ts'
import { findIndicator, findPoint, type JobOptions, withJob, withJobOption } from './open-job.ts'
import { describeCommand, run } from './run-command.ts'

type Options = JobOptions & {
  column?: ColumnMapping
  like?: string
  tags?: string
  first: number
  count?: number
  on?: string
  firstChannel: number
  dryRun?: boolean
  partly?: boolean
}
type From = HostCalls['points.import']['request']['from']
type Reply = Extract<HostCalls['points.import']['reply'], { ok: true }>['value']

/** "maximumLoad=Max. load" reads that column for it; "pressure=" leaves the field out though a heading looks like it. */
function column(text: string, before: ColumnMapping = {}): ColumnMapping {
  const [name = '', ...heading] = text.split('=')
  const field = pointField.safeParse(name)
  if (!field.success || heading.length === 0)
    throw new InvalidArgumentError(`FIELD=HEADING is needed; fields: ${pointField.options.join(', ')}.`)
  return { ...before, [field.data]: heading.join('=') || null }
}

export function addImportPoints(program: Command): void {
  describeCommand(
    withJobOption(
      program
        .command('import-points')
        .argument('[sheet]', 'a CSV file with a heading row')
        .description('adds measuring points from a CSV sheet, or many like one that is there; one wrong row adds nothing, unless --partly'),
    )
      .option(
        '--column <field=heading>',
        'which column holds what, once for each; a field not named is found by its heading, FIELD= leaves it out',
        column,
      )
      .option('--like <tag>', 'instead of a sheet: many points like this one; what a certificate states of one sensor is not taken over')
      .option('--tags <pattern>', 'with --like: tags, # for each digit of the running number, e.g. WT-2##')
      .option('--first <number>', 'with --like: the first running number', wholeNumber(0, 999_999), 1)
      .option('--count <number>', 'with --like: how many', wholeNumber(1, 500))
      .option('--on <indicator>', 'with --like: put them on the channels of this indicator, by id or name')
      .option('--first-channel <number>', 'with --on: the channel of the first one', wholeNumber(1, 32), 1)
      .option('--dry-run', 'only show what would be added; exit code 1 if a row is wrong')
      .option('--partly', 'add the sound rows and leave the wrong ones out; exit code 3 if there are any'),
    [
      'import-points --job site.job.json points.csv --dry-run',
      'import-points --job site.job.json points.csv --column "maximumLoad=Max. load" --column pressure= --partly',
      'import-points --job site.job.json --like WT-101 --tags "WT-2##" --first 1 --count 12',
      'import-points --job site.job.json --like WT-201 --tags "WT-2##" --first 2 --count 3 --on ind-3 --first-channel 2 --json',
    ],
    'import-points',
  ).action(run((options: Options, around, [sheet]) => withJob(options, around, (host) => importPoints(host, options, sheet))))
}

async function importPoints(host: Host, options: Options, sheet: string | undefined): Promise<CommandEnd> {
  const from = sheet === undefined ? fromTemplate(host, options) : fromSheet(sheet, options)
  if (!from.ok) return from.failure
  const job = host.topics.get('job')
  const { dryRun = false, partly = false } = options
  const reply = await host.call('points.import', { revision: job?.revision ?? 0, from: from.value, dryRun, partly })
  if (!reply.ok)
    return reply.failure.kind === 'stale' ? failed({ why: 'The job was changed meanwhile. Run this again.' }) : failedBy(reply.failure)
  return endOf(reply.value, dryRun)
}

function fromSheet(file: string, options: Options): Result<From, CommandEnd> {
  if (options.like !== undefined) return fail(misused('Give either a sheet or --like, not both.'))
  try {
    const text = sheetText(readFileSync(file))
    return ok({ sheet: text, ...(options.column ? { columns: options.column } : {}) })
  } catch (cause) {
    return fail(failed({ why: describeReadProblem(cause), where: file }))
  }
}

function fromTemplate(host: Host, { job, like, tags, first, count, on, firstChannel, column: columns }: Options): Result<From, CommandEnd> {
  if (like === undefined) return fail(misused('Give a CSV sheet, or --like TAG for many points like one.'))
  if (tags === undefined || count === undefined) return fail(misused('With --like say --tags PATTERN and --count NUMBER.'))
  if (columns) return fail(misused('--column belongs to a sheet.'))
  const point = findPoint(host, like)
  if (!point.ok) return fail(misused(point.failure))
  const template = { pointId: point.value.id, tagPattern: tags, firstNumber: first, count }
  if (on === undefined) return ok({ template })
  const indicator = findIndicator(host, { job, indicator: on })
  return indicator.ok
    ? ok({ template: { ...template, onIndicator: { indicatorId: indicator.value.id, firstChannel } } })
    : fail(misused(indicator.failure))
}

function sensorsOf({ sensors: { certificates } }: Reply['points'][number]): string {
  const [first] = certificates
  if (!first) return 'no sensors stated'
  return `${certificates.length} × ${first.capacity ? `${first.capacity.value} ${units[first.capacity.unit].symbol}` : 'capacity not stated'}`
}

function endOf({ added, points, errors, columns }: Reply, dryRun: boolean): CommandEnd {
  const wrong = errors.map((e) => `row ${e.row}${e.column === '' ? '' : `, ${e.column}`}: ${e.why}`)
  const taken = columns.map((c) => `  "${c.heading}" ${c.field === null ? 'is not read' : `is ${c.field}`}`)
  const listed = points.map((p) =>
    `  ${p.tag.padEnd(12)} ${p.maximumLoad} ${p.unit}, d ${p.scaleInterval}, ${sensorsOf(p)}  ${p.name}`.trimEnd(),
  )
  const lines = [
    ...(dryRun && taken.length > 0 ? ['Columns:', ...taken] : []),
    `${points.length} ${added ? 'added' : 'sound, not added'}:`,
    ...listed,
    ...wrong,
  ]
  const json = { ok: true, added, dryRun, points, errors, columns }
  if (errors.length === 0) return { exit: exitCode.done, lines, json }
  if (added)
    return { exit: exitCode.differs, lines: [...lines, `${counted(errors.length, 'error')}; the rows with errors were left out.`], json }
  return ended(exitCode.failed, { why: `${counted(errors.length, 'error')}; nothing was added.`, detail: json }, lines)
}
