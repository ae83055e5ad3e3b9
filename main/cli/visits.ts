import { resolve } from 'node:path'
import type { Command } from 'commander'
import type { PointDrift, VisitComparison } from '../../app/contract/visit-calls.ts'
import { compareVisits } from '../../app/job/compare-visits.ts'
import { visitNameOf } from '../../app/job/visit-name.ts'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { units } from '../../app/quantity/units.ts'
import { readJob } from '../files/job-store.ts'
import { failed } from './command-end.ts'
import { counted } from './counted.ts'
import { exitCode } from './exit-codes.ts'
import { type JobOptions, withJobOption } from './open-job.ts'
import { describeCommand, run } from './run-command.ts'
import { differenceLine } from './setting-lines.ts'

type Compare = JobOptions & { later?: string; earlier?: string }

/** Both read the job file only: they also serve while the job is open elsewhere. */
export function addVisits(program: Command): void {
  const group = program.command('visits').description('the visits of a job, and what has drifted between them')
  describeCommand(
    withJobOption(group.command('list').description('visits, newest first')),
    ['visits list --job site.job.json', 'visits list --job site.job.json --json'],
    'visits-list',
  ).action(
    run(async ({ job: file }: JobOptions) => {
      const job = readJob(resolve(file))
      if (!job.ok) return failed(job.failure)
      const visits = job.value.visits
        .map((v) => ({ ...visitNameOf(v), indicators: Object.keys(v.found).length, checks: v.checks.length }))
        .sort((a, b) => b.startedAt.localeCompare(a.startedAt))
      return {
        exit: exitCode.done,
        lines:
          visits.length === 0
            ? ['There is no visit yet.']
            : visits.map(
                (v) => `${v.visitId}  ${v.startedAt}  ${v.by}: ${counted(v.indicators, 'indicator')} read, ${counted(v.checks, 'check')}`,
              ),
        json: { ok: true, visits },
      }
    }),
  )
  describeCommand(
    withJobOption(
      group
        .command('compare')
        .description('as found in a visit against as left before it: settings, sensitivity, zero, span; exit code 3 if anything has moved'),
    )
      .option('--later <id>', 'the visit whose findings are judged; the latest unless given')
      .option('--earlier <id>', 'the visit before; for each indicator the latest that says something unless given'),
    ['visits compare --job site.job.json', 'visits compare --job site.job.json --earlier visit-20251120091500000-1 --json'],
    'visits-compare',
  ).action(
    run(async ({ job: file, later, earlier }: Compare) => {
      const job = readJob(resolve(file))
      if (!job.ok) return failed(job.failure)
      const profiles = new Map([...bundledProfiles, ...job.value.profiles.map((p) => [p.id, p] as const)])
      const compared = compareVisits(job.value, profiles, { later, earlier })
      if (!compared.ok) return failed({ why: compared.failure })
      return {
        exit: hasMoved(compared.value) ? exitCode.differs : exitCode.done,
        lines: lines(compared.value),
        json: { ok: true, ...compared.value },
      }
    }),
  )
}

const hasMoved = ({ indicators, points }: VisitComparison) =>
  indicators.some((i) => i.moved.length > 0) || points.some((p) => p.zero?.resolved || p.span?.resolved)

function lines({ later, indicators, points }: VisitComparison): string[] {
  return [
    `Visit of ${later.startedAt}, ${later.by}, against what was left before:`,
    ...indicators.flatMap((i) =>
      i.since === null
        ? [`${i.name}: ${i.why}`]
        : [
            `${i.name}, left ${i.since.startedAt}: ${i.moved.length} of ${i.compared} settings have moved${i.moved.length > 0 ? ', left → found:' : ''}`,
            ...i.moved.map(differenceLine),
          ],
    ),
    ...points.flatMap(pointLines),
  ]
}

const seen = (resolved: boolean) => (resolved ? '' : '; no more than rounding explains')

function pointLines({ tag, unit, implied, zero, span, remarks }: PointDrift): string[] {
  const { symbol } = units[unit]
  return [
    `${tag}:`,
    ...(implied ? [`  sensitivity held: ${implied.before} → ${implied.now} mV/V (${implied.changePercent} %)`] : []),
    ...(zero
      ? [`  zero: ${zero.before} → ${zero.now} ${symbol}, drift ${zero.drift} ${symbol} (${zero.intervals} d)${seen(zero.resolved)}`]
      : []),
    ...(span
      ? [`  span: drift ${span.driftPercent} % up to ${span.loadNow} ${symbol} (rounding ${span.roundingPercent} %)${seen(span.resolved)}`]
      : []),
    ...remarks.map((remark) => `  ${remark}`),
  ]
}
