import { writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Command } from 'commander'
import type { EntrySheetView } from '../../app/contract/entry-sheet-calls.ts'
import type { Point } from '../../app/job/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { isSetAtPanel } from '../../app/scaling/entry-sheet.ts'
import { expectation, safetyWords, sheetWarnings } from '../../app/scaling/entry-sheet-words.ts'
import { describeDiskProblem } from '../files/disk-problem.ts'
import type { Host } from '../host/host.ts'
import { type CommandEnd, failed, failedBy, misused } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { findPoint, type JobOptions, withJob, withJobOption } from './open-job.ts'
import { describeCommand, run } from './run-command.ts'

type Options = JobOptions & { html?: string }

export function addEntrySheet(program: Command): void {
  describeCommand(
    withJobOption(
      program
        .command('entry-sheet')
        .argument('[tags...]', 'measuring points; without any, all whose indicator is set at its front panel only')
        .description("what to type at an indicator, in its own digits and its menu's order; nothing is sent"),
    ).option('--html <file>', 'also write a document that prints on A4, a page for each point'),
    [
      'entry-sheet --job site.job.json',
      'entry-sheet --job site.job.json WT-401 WT-402 --html entry-sheets.html',
      'entry-sheet --job site.job.json WT-401 --json',
    ],
    'entry-sheet',
  ).action(run((options: Options, around, tags) => withJob(options, around, (host) => entrySheets(host, options, tags))))
}

async function entrySheets(host: Host, { html }: Options, tags: readonly string[]): Promise<CommandEnd> {
  const points = pointsMeant(host, tags)
  if (!points.ok) return misused(points.failure)
  const read = await host.call('entry-sheet.read', { pointIds: points.value.map((p) => p.id) })
  if (!read.ok) return failedBy(read.failure)
  const { sheets } = read.value
  if (html !== undefined) {
    try {
      writeFileSync(resolve(html), read.value.html)
    } catch (cause) {
      return failed({ why: `The sheet is not written: ${describeDiskProblem(cause)}`, where: html })
    }
  }
  return {
    exit: exitCode.done,
    lines: [
      ...sheets.flatMap((s, i) => [...(i > 0 ? [''] : []), ...sheetLines(s)]),
      ...(html === undefined ? [] : ['', `Written for printing: ${html}`]),
    ],
    json: { ok: true, sheets, ...(html === undefined ? {} : { html }) },
  }
}

function pointsMeant(host: Host, tags: readonly string[]): Result<Point[], string> {
  if (tags.length === 0) {
    const points = host.topics.get('job')?.points ?? []
    const atPanel = points.filter((p) => p.indicatorId !== undefined && isSetAtPanel(host.profileOf(p.indicatorId)))
    return atPanel.length > 0
      ? ok(atPanel)
      : fail(
          `No indicator of this job is set at its front panel only. Name the points: ${points.map((p) => p.tag).join(', ') || 'there are none'}.`,
        )
  }
  const found: Point[] = []
  for (const tag of new Set(tags)) {
    const point = findPoint(host, tag)
    if (!point.ok) return point
    found.push(point.value)
  }
  return ok(found)
}

function sheetLines(sheet: EntrySheetView): string[] {
  const { tag, name, indicator, lines, captures } = sheet
  const longest = (texts: readonly string[]) => Math.max(0, ...texts.map((t) => t.length))
  const labels = lines.map((l) => l.label ?? '')
  const [labelWidth, wordsWidth, typeWidth] = [
    longest(labels),
    longest(lines.map((l) => l.words)),
    longest(lines.map((l) => l.type ?? 'as it is')),
  ]
  return [
    `${tag}  ${name}`.trimEnd(),
    `${indicator.name} (${indicator.model}, unit ${indicator.unit})`,
    ...safetyWords,
    ...sheetWarnings(sheet),
    ...sheet.warnings,
    ...lines.map((l, i) =>
      `  ${String(i + 1).padStart(2)}  ${(l.label ?? '').padEnd(labelWidth)}  ${l.words.padEnd(wordsWidth)}  ${(l.type ?? 'as it is').padStart(typeWidth)}  ${l.unit ?? ''}`.trimEnd(),
    ),
    ...captures.map((c) => `  ${c.command.replace('-', ' ')}: with ${c.apply} ${c.unit} on, ${c.expectSignal} ${c.signalUnit} expected`),
    expectation(sheet, (text) => text),
    'Then check it against known values before it is used.',
  ]
}
