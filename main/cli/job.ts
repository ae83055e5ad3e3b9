import { resolve } from 'node:path'
import { type Command, Option } from 'commander'
import { blankJob } from '../../app/job/blank-job.ts'
import type { Job } from '../../app/job/schema.ts'
import type { Result } from '../../app/result.ts'
import { openBundle } from '../files/bundle.ts'
import { duplicateJob } from '../files/copy-job.ts'
import { keptVersions } from '../files/earlier-versions.ts'
import { createJob, type JobProblem, readJob } from '../files/job-store.ts'
import { writeBundle } from '../files/write-bundle.ts'
import { nodeClock } from '../host/node-clock.ts'
import { shownVersion } from '../host/version-calls.ts'
import { type CommandEnd, failed, misused } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { describeCommand, run } from './run-command.ts'

type New = { name: string; site: string; decimalSign: Job['decimalSign']; practice?: boolean; json?: boolean }

export function addJob(program: Command): void {
  const group = program.command('job').description('jobs as files: new, duplicate, hand on as one bundle, earlier versions')
  describeCommand(
    group
      .command('new')
      .argument('<file>', 'where it goes, X.job.json')
      .description('a blank job')
      .requiredOption('--name <name>', 'name of the job')
      .option('--site <site>', 'where it is', '')
      .option('--practice', 'on the simulated indicators of the practice bench')
      .addOption(new Option('--decimal-sign <sign>', 'how numbers are typed in this job').choices(['.', ',']).default('.')),
    ['job new mill.job.json --name "Mill 4" --site "South yard"'],
    'job-new',
  ).action(
    run(async ({ name, site, decimalSign, practice = false }: New, _around, [file = '']) => {
      const wrong = wrongName(file)
      return (
        wrong ?? ended(createJob(resolve(file), blankJob(freshId(), { name, site, decimalSign, simulated: practice })), () => madeAt(file))
      )
    }),
  )
  describeCommand(
    group
      .command('duplicate')
      .argument('<file>', 'the job to begin from')
      .argument('<new>', 'where the new one goes, X.job.json')
      .requiredOption('--name <name>', 'name of the new job')
      .description('a new job after another: points and certificates, without visits, measured values, intended values and seals'),
    ['job duplicate mill.job.json mill-5.job.json --name "Mill 5"'],
    'job-duplicate',
  ).action(
    run(async ({ name }: { name: string; json?: boolean }, _around, [from = '', to = '']) => {
      const wrong = wrongName(to)
      if (wrong) return wrong
      const read = readJob(resolve(from))
      return read.ok ? ended(duplicateJob(read.value, resolve(to), { id: freshId(), name }), () => madeAt(to)) : unread(read.failure)
    }),
  )
  describeCommand(
    group
      .command('bundle')
      .argument('<file>', 'the job')
      .argument('<bundle>', 'where the bundle goes, X.zip')
      .description('puts the job and everything beside it into one file to hand on'),
    ['job bundle mill.job.json mill-2026-11.zip'],
    'job-bundle',
  ).action(
    run(async (_options: { json?: boolean }, _around, [file = '', to = '']) => {
      const read = readJob(resolve(file))
      if (!read.ok) return unread(read.failure)
      return ended(await writeBundle(resolve(file), resolve(to)), (written) => ({
        exit: exitCode.done,
        lines: [`${written.path}: ${written.files} files, ${written.bytes} bytes`],
        json: { ok: true, ...written },
      }))
    }),
  )
  describeCommand(
    group
      .command('open-bundle')
      .argument('<bundle>', 'the bundle, X.zip')
      .option('--into <folder>', 'where the job goes', '.')
      .description('unpacks a bundle; nothing that is there is overwritten'),
    ['job open-bundle mill-2026-11.zip --into ./jobs'],
    'job-open-bundle',
  ).action(
    run(async ({ into }: { into: string; json?: boolean }, _around, [bundle = '']) =>
      ended(await openBundle(resolve(bundle), resolve(into)), ({ path, job }) => ({
        exit: exitCode.done,
        lines: [`${path}: ${job.name}`],
        json: { ok: true, path, name: job.name },
      })),
    ),
  )
  describeCommand(
    group.command('versions').argument('<file>', 'the job').description('earlier versions kept beside a job, newest first'),
    ['job versions mill.job.json'],
    'job-versions',
  ).action(
    run(async (_options: { json?: boolean }, _around, [file = '']) => {
      const read = readJob(resolve(file))
      if (!read.ok) return unread(read.failure)
      const versions = keptVersions(resolve(file)).map((kept) => shownVersion(kept, read.value))
      return {
        exit: exitCode.done,
        lines: versions.length === 0 ? ['None is kept yet.'] : versions.map((v) => `${v.version}  before: ${v.changes ?? v.why}`),
        json: { ok: true, versions },
      }
    }),
  )
}

const freshId = () => `job-${nodeClock.stamp().replace(/[^0-9]/g, '')}`
const wrongName = (file: string) =>
  file.endsWith('.job.json') ? null : misused(`The name of a job file ends in .job.json, not "${file}".`)
const madeAt = (file: string): CommandEnd => ({ exit: exitCode.done, lines: [resolve(file)], json: { ok: true, path: resolve(file) } })
const unread = ({ why, where }: JobProblem) => failed({ why, where })

const ended = <T>(result: Result<T, JobProblem>, done: (value: T) => CommandEnd): CommandEnd =>
  result.ok ? done(result.value) : unread(result.failure)
