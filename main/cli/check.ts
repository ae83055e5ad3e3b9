import { createInterface } from 'node:readline'
import { type Command, InvalidArgumentError, Option } from 'commander'
import { appliedKind } from '../../app/applied-words.ts'
import { evaluateQuickCheck } from '../../app/evaluation/quick-check.ts'
import type { Point, QuickCheck } from '../../app/job/schema.ts'
import { decimalText } from '../../app/quantity/decimal-text.ts'
import { toDecimal } from '../../app/quantity/exact.ts'
import { units } from '../../app/quantity/units.ts'
import type { Host } from '../host/host.ts'
import { type CommandEnd, failedBy, misused } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { findPoint, type JobOptions, reach, withJob, withJobOption } from './open-job.ts'
import { type Around, describeCommand, run } from './run-command.ts'
import { byOption, startVisit } from './visit.ts'

type Load = { load: string; typed?: string }
type Options = JobOptions & { point?: string; by?: string; when: QuickCheck['when']; load: Load[]; standards?: string }

/** "500" is read live, "500=500.2" was read by the person. */
function loadStep(text: string, before: Load[] = []): Load[] {
  const [load = '', typed, ...more] = text.split('=')
  if (more.length > 0 || !decimalText.safeParse(load).success || (typed !== undefined && !decimalText.safeParse(typed).success))
    throw new InvalidArgumentError('A load, or load=reading, is needed, each a decimal number with a point: 500 or 500=500.2')
  return [...before, { load, ...(typed === undefined ? {} : { typed }) }]
}

export function addCheck(program: Command): void {
  describeCommand(
    byOption(
      withJobOption(
        program
          .command('check')
          .description(
            'quick check against known loads or pressures, kept in the job; exit code 3 unless every error is within the tolerance',
          ),
      ),
    )
      .option('--point <tag>', 'which measuring point; not needed where the job has one only')
      .addOption(
        new Option('--when <which>', 'before or after the scaling was changed').choices(['as-found', 'as-left']).default('as-found'),
      )
      .option('--standards <text>', 'weights or pressure standard used, for the sheet')
      .requiredOption(
        '--load <load...>',
        'LOAD (or pressure): put it on, press Enter, the steady reading is taken; LOAD=READING: as read',
        loadStep,
      ),
    [
      'check --job site.job.json --by "A. Smith" --load 0=0.0 500=500.2 0=0.0',
      'check --job site.job.json --point WT-101 --by "A. Smith" --when as-left --load 0 500 0',
    ],
    'check',
  ).action(run((options: Options, around) => withJob(options, around, (host) => check(host, options, around))))
}

async function check(host: Host, options: Options, around: Around): Promise<CommandEnd> {
  const found = findPoint(host, options.point)
  if (!found.ok) return misused(found.failure)
  if (options.by === undefined) return misused('Say who is at the machine: --by NAME. A check carries a name.')
  const point = found.value
  const refused = await startVisit(host, options.by)
  if (refused) return refused
  if (options.load.some((l) => l.typed === undefined)) {
    const ready = await readLive(host, point, around)
    if (ready) return ready
  }
  const started = await host.call('check.start', {
    pointId: point.id,
    when: options.when,
    ...(options.standards === undefined ? {} : { standards: options.standards }),
  })
  if (!started.ok) return failedBy(started.failure)
  const checkId = started.value.id
  const people = enterPresses(around.interrupts.signal)
  try {
    for (const { load, typed } of options.load) {
      const captured =
        typed === undefined
          ? await captureSteady(host, point, checkId, load, around, people.next)
          : await host.call('check.capture', { checkId, load, typed })
      if (!captured.ok) return failedBy(captured.failure)
    }
  } finally {
    people.close()
  }
  const finished = await host.call('check.finish', { checkId })
  return finished.ok ? report(point, finished.value) : failedBy(finished.failure)
}

async function readLive(host: Host, point: Point, around: Around): Promise<CommandEnd | null> {
  const indicator = host.topics.get('job')?.indicators.find((i) => i.id === point.indicatorId)
  if (!indicator) return misused(`The point ${point.tag} has no indicator to read: give each reading as LOAD=READING.`)
  const reached = await reach(host, indicator, around)
  if (!reached.ok) return reached.failure
  const held = await host.call('settings.read', { indicatorId: indicator.id })
  if (!held.ok) return failedBy(held.failure)
  await host.call('live.start', { pointIds: [point.id] })
  return null
}

/** A reading is given this long to become steady, in ms; slow filters need some of it. */
const longestWaitMs = 30_000
/** Before this the reading may still stand steady on the load before, in ms. */
const leastWaitMs = 2_500

type Captured = ReturnType<typeof captureNow>
const captureNow = (host: Host, checkId: string, load: string) => host.call('check.capture', { checkId, load })

async function captureSteady(
  host: Host,
  point: Point,
  checkId: string,
  load: string,
  { progress, note, interrupts }: Around,
  enter: () => Promise<boolean>,
): Captured {
  const stopped = {
    ok: false,
    failure: { kind: 'refused-request', why: 'Ended before all loads were checked; what was captured is kept.' },
  } as const
  const onBench = await host.call('practice.load', { pointId: point.id, load })
  if (!onBench.ok) {
    note(`${prompt(load, point)}, then press Enter.`)
    if (!(await enter())) return stopped
  }
  const began = performance.now()
  progress.say(`Waiting until ${load} ${point.unit} stands steady`)
  await pause(leastWaitMs)
  for (;;) {
    if (interrupts.signal.aborted) return stopped
    const captured = await captureNow(host, checkId, load)
    if (captured.ok) note(`${load} ${point.unit}: reads ${captured.value.steps.at(-1)?.reading}`)
    if (captured.ok || performance.now() - began > longestWaitMs) return captured
    await pause(200)
  }
}

/** "Put 500 kg on WT-101", "Vent PT-301", "Apply 4 bar to PT-301". */
function prompt(load: string, point: Point): string {
  const kind = appliedKind(point)
  const amount = `${load} ${units[point.unit].symbol}`
  if (kind === 'load') return Number(load) === 0 ? `Take everything off ${point.tag}` : `Put ${amount} on ${point.tag}`
  if (kind === 'absolute' || Number(load) !== 0) return `Apply ${amount} to ${point.tag}`
  return kind === 'gauge' ? `Vent ${point.tag}` : `Join both sides of ${point.tag}, so that they are at one pressure`
}

const pause = (ms: number) => new Promise((done) => setTimeout(done, ms))

/** One Enter on standard input for each load; false where input has ended or Ctrl-C came. */
function enterPresses(signal: AbortSignal): { next(): Promise<boolean>; close(): void } {
  let lines: AsyncIterator<string> | undefined
  let close = () => {}
  return {
    async next() {
      if (!lines) {
        const input = createInterface({ input: process.stdin, signal })
        lines = input[Symbol.asyncIterator]()
        close = () => {
          input.close()
          process.stdin.destroy()
        }
      }
      const pressed = await lines.next()
      return !pressed.done && !signal.aborted
    },
    close: () => close(),
  }
}

const signed = (text: string) => (/^0(\.0+)?$/.test(text) || text.startsWith('-') ? text : `+${text}`)

function report(point: Point, check: QuickCheck): CommandEnd {
  const { verdict, reasons, remarks, steps } = evaluateQuickCheck(check, point)
  const places = (point.scaleInterval.split('.')[1] ?? '').length + 1
  const errors = steps.map((s, i) => ({ load: check.steps[i]?.load ?? '', error: toDecimal(s.error, places) }))
  return {
    exit: verdict === 'within' ? exitCode.done : exitCode.differs,
    lines: [
      ...check.steps.map(
        (s, i) =>
          `${s.load.padStart(10)} ${check.unit}  reads ${s.reading.padStart(10)}  error ${signed(errors[i]?.error ?? '').padStart(9)} ${check.unit}  (${s.origin})`,
      ),
      `${point.tag}, ${check.when.replace('-', ' ')}: ${verdict.replaceAll('-', ' ')}`,
      ...reasons,
      ...remarks,
    ],
    json: { ok: true, point: point.tag, check, verdict, reasons, remarks, errors },
  }
}
