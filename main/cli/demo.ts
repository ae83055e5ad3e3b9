import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { appliedWords } from '../../app/applied-words.ts'
import { explainBusFailure } from '../../app/contract/bus-failure.ts'
import type { WriteFailure } from '../../app/contract/views.ts'
import { evaluateQuickCheck } from '../../app/evaluation/quick-check.ts'
import type { Point, QuickCheck } from '../../app/job/schema.ts'
import { keptWords } from '../../app/profile/kept.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { toDecimal } from '../../app/quantity/exact.ts'
import { impliedByHeld } from '../../app/scaling/implied.ts'
import { proposeScaling } from '../../app/scaling/propose-scaling.ts'
import { explainScalingFailure } from '../../app/scaling/scaling-failure.ts'
import type { Host } from '../host/host.ts'
import { openHost } from '../open-host.ts'
import type { PracticeBench } from '../practice/open-practice.ts'
import { type CommandEnd, failed } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import type { Around } from './run-command.ts'
import { changeText } from './setting-lines.ts'

/** The main job on the practice bench through the real parts. It ends well only if every step held. */
export async function demo(options: { out?: string }, around: Around): Promise<CommandEnd> {
  const out = options.out ? resolve(options.out) : mkdtempSync(join(tmpdir(), 'spanwright-demo-'))
  mkdirSync(out, { recursive: true })
  const jobPath = join(out, 'demo.job.json')
  const opened = await openHost({ jobPath, shell: 'command line', address: 'demo', practice: true })
  if (!opened.ok) return failed({ why: opened.failure.why, where: opened.failure.where })
  const { host, practice } = opened.value
  const { signal } = around.interrupts
  const stop = () => void host.call('sending.stop', {})
  signal.addEventListener('abort', stop, { once: true })
  const say = (line: string) => (around.json ? around.note(line) : console.log(line))
  try {
    if (!practice) return failed({ why: 'The demo runs on the practice bench only.' })
    say('Practice bench: simulated indicators, no real machine.')
    if (practice.serialNote) say(practice.serialNote)
    await walk({ host, practice, out, say, signal })
    const sheets = (host.topics.get('job')?.points ?? []).map(({ tag }) => ({ point: tag, file: sheetFile(out, tag) }))
    return {
      exit: exitCode.done,
      lines: ['', `Every step held. Job and handover sheets: ${out}`],
      json: { ok: true, job: jobPath, sheets },
    }
  } catch (cause) {
    if (!(cause instanceof Shortfall)) throw cause
    return failed({ why: `Not held: ${cause.message}` })
  } finally {
    signal.removeEventListener('abort', stop)
    await host.close()
  }
}

const sheetFile = (out: string, tag: string) => join(out, `${tag}.handover.html`)

type Demo = { host: Host; practice: PracticeBench; out: string; say(line: string): void; signal: AbortSignal }

/** A step of the demo that did not come out as it must. */
class Shortfall extends Error {}

function need<T, F>(result: { ok: true; value: T } | { ok: false; failure: F }, what: string, explain: (failure: F) => string): T {
  if (result.ok) return result.value
  throw new Shortfall(`${what}: ${explain(result.failure)}`)
}

function missing(what: string): never {
  throw new Shortfall(`${what} is missing`)
}

type Explainable = Parameters<typeof explainBusFailure>[0] | { kind: string; why: string }
const why = (failure: Explainable): string =>
  'why' in failure && failure.kind !== 'link-down' ? failure.why : explainBusFailure(failure as Parameters<typeof explainBusFailure>[0])

async function walk(d: Demo): Promise<void> {
  const { host } = d
  need(await host.call('visit.start', { by: 'Demo' }), 'start of the visit', why)
  d.say('\n1  Listening, identifying, reading as found')
  await host.start()
  const points = () => host.topics.get('job')?.points ?? missing('job')
  for (const bus of host.topics.get('job')?.buses ?? []) {
    const view = host.topics.get('bus', bus.id)
    if (view?.state !== 'open') throw new Shortfall(`${bus.name}: ${view?.why ?? view?.state}`)
  }
  for (const point of points()) sayFound(d, point)

  d.say('\n2  Checking as found: nothing applied, half of the maximum, nothing applied')
  const found = await Promise.all(points().map((p) => check(d, p.id, 'as-found')))

  d.say('\n3  Scaling from the certificates, zero as measured where the indicator gives its signal')
  for (const { id } of points()) await intend(d, id)

  d.say('\n4  Writing: journalled, read back, saved; then a power cycle')
  const indicators = [...new Set(points().flatMap((p) => p.indicatorId ?? []))]
  await Promise.all(indicators.map((id) => write(d, id)))
  await Promise.all(indicators.map((id) => survivePowerCycle(d, id)))
  for (const { id } of points()) await zeroWhereNotMeasured(d, id)

  d.say('\n5  Checking as left')
  const left = await Promise.all(points().map((p) => check(d, p.id, 'as-left')))
  await report(d, points(), found, left)
}

function indicatorOf({ host }: Demo, point: Point) {
  const indicatorId = point.indicatorId ?? missing(`indicator of ${point.tag}`)
  return {
    indicatorId,
    view: host.topics.get('indicator', indicatorId) ?? missing(indicatorId),
    profile: host.profileOf(indicatorId) ?? missing(`profile of ${point.tag}`),
  }
}

function sayFound(d: Demo, point: Point): void {
  const { view, profile } = indicatorOf(d, point)
  if (view.identity.outcome !== 'confirmed') throw new Shortfall(`${point.tag}: identity ${view.identity.outcome}`)
  const held = view.held ?? missing(`settings of ${point.tag}`)
  const implied = impliedByHeld(point, profile, held)
  d.say(`   ${point.tag}  ${profile.name}: ${Object.keys(held.values).length} settings kept as found`)
  if (implied.ok) d.say(`           implies ${implied.value.summary}`)
}

const pointNow = ({ host }: Demo, pointId: string): Point =>
  host.topics.get('job')?.points.find((p) => p.id === pointId) ?? missing(pointId)
const revisionNow = ({ host }: Demo) => host.topics.get('job')?.revision ?? 0

const signalIsMeasured = ({ host }: Demo, pointId: string): boolean => {
  const live = host.topics.get('live', pointId)
  return live?.state === 'fresh' && live.sample.signalOrigin === 'measured'
}

async function intend(d: Demo, pointId: string): Promise<void> {
  const { host } = d
  const { tag } = pointNow(d, pointId)
  if (signalIsMeasured(d, pointId))
    need(await host.call('point.measure-zero', { pointId, revision: revisionNow(d) }), `${tag}: measured zero`, (f) =>
      'why' in f ? f.why : f.kind,
    )
  const point = pointNow(d, pointId)
  const { zeroSignal } = point.measured
  const proposal = need(
    proposeScaling(point, indicatorOf(d, point).profile, zeroSignal ? { zeroSignal } : {}),
    `${tag}: scaling`,
    explainScalingFailure,
  )
  need(await host.call('point.intend', { pointId, revision: revisionNow(d), values: proposal.intended }), `${tag}: intended values`, (f) =>
    'why' in f ? f.why : f.kind,
  )
  const { pairs } = proposal
  d.say(
    `   ${tag}  ${pairs.lower.signal} = ${pairs.lower.reading}, ${pairs.upper.signal} ${pairs.signalUnit} = ${pairs.upper.reading} ${pairs.readingUnit}; rounding costs ${toDecimal(pairs.rounding.atMaximum.intervals, 2)} d${zeroSignal ? '' : '; zero by certificate'}`,
  )
}

async function write(d: Demo, indicatorId: string): Promise<void> {
  const { host } = d
  const name = host.topics.get('job')?.indicators.find((i) => i.id === indicatorId)?.name ?? indicatorId
  const preview = need(await host.call('settings.preview', { indicatorId }), `${name}: preview`, why)
  const receipt = need(await host.call('settings.write', { previewId: preview.previewId }), `${name}: write`, explainWrite)
  d.say(
    `   ${name}: ${receipt.written.length} ${receipt.written.length === 1 ? 'setting' : 'settings'} written and read back, ${keptWords(receipt)}; ${receipt.alsoMoved.length} others moved`,
  )
  for (const w of receipt.written)
    d.say(`           ${settingWords(w.key, host.profileOf(indicatorId)?.channels).padEnd(32)} ${changeText(w, 'no number')}`)
}

async function survivePowerCycle({ host, practice }: Demo, indicatorId: string): Promise<void> {
  practice.bench.powerCycle(indicatorId)
  need(await host.call('settings.read', { indicatorId }), `${indicatorId} after the power cycle`, why)
  const differs = host.topics.get('indicator', indicatorId)?.differs ?? missing(indicatorId)
  if (differs.length > 0) throw new Shortfall(`${indicatorId}: ${differs.length} settings did not survive the power cycle`)
}

/** Without a measured signal the zero stands by certificate only: the unloaded point is zeroed, as one would at the machine. */
async function zeroWhereNotMeasured(d: Demo, pointId: string): Promise<void> {
  if (signalIsMeasured(d, pointId)) return
  const point = pointNow(d, pointId)
  if (!indicatorOf(d, point).profile.commands.zero) return
  const taken = need(await d.host.call('indicator.preview-command', { pointId, command: 'zero' }), `${point.tag}: zero`, why)
  // The bench is unloaded and vented here; a person at a machine has to look.
  const confirmed = {
    ...(taken.amount === null ? {} : { amount: taken.amount }),
    ...(taken.confirm.includes('vented') ? { vented: true as const } : {}),
  }
  const words = appliedWords(point)
  need(await d.host.call('indicator.command', { pointId, command: 'zero', confirmed }), `${point.tag}: zero`, why)
  d.say(
    `   ${point.tag}  zeroed ${words.steps[0]}: ${taken.amount ?? 'an unknown reading'} ${point.unit} taken off, ${taken.percentOfMaximum ?? '?'} % of ${words.maximum}`,
  )
}

async function check({ host, say, signal }: Demo, pointId: string, when: 'as-found' | 'as-left'): Promise<QuickCheck> {
  const point = host.topics.get('job')?.points.find((p) => p.id === pointId) ?? missing(pointId)
  const { id: checkId } = need(await host.call('check.start', { pointId, when }), 'check', (f) => f.why)
  for (const load of ['0', half(point.maximumLoad), '0']) {
    need(await host.call('practice.load', { pointId, load }), 'load', (f) => f.why)
    await whenSteady(host, checkId, load, signal)
  }
  const done = need(await host.call('check.finish', { checkId }), 'check', (f) => f.why)
  const { verdict, worst } = evaluateQuickCheck(done, point)
  const readings = done.steps.map((s) => s.reading).join(', ')
  say(
    `   ${point.tag}  reads ${readings} ${point.unit}: ${verdict}${worst ? `, largest error ${toDecimal(worst.error, 2)} ${point.unit} = ${toDecimal(worst.intervals, 1)} d` : ''}`,
  )
  return done
}

const half = (load: string) => String(Number(load) / 2)
const longestWaitMs = 20_000

/** Captures as soon as the reading is steady; gives the indicator's filter time to arrive first. */
async function whenSteady(host: Host, checkId: string, load: string, signal: AbortSignal): Promise<void> {
  const until = performance.now() + longestWaitMs
  await pause(3_000)
  for (;;) {
    const captured = await host.call('check.capture', { checkId, load })
    if (captured.ok) return
    if (performance.now() > until || signal.aborted) throw new Shortfall(`no steady reading at ${load}: ${captured.failure.why}`)
    await pause(200)
  }
}

const pause = (ms: number) => new Promise((done) => setTimeout(done, ms))

const explainWrite = (failure: WriteFailure): string =>
  failure.kind === 'failed'
    ? `${failure.because.kind} while ${failure.during}; ${failure.end}`
    : 'why' in failure
      ? failure.why
      : failure.kind

async function report(
  { host, out, say }: Demo,
  points: readonly Point[],
  found: readonly QuickCheck[],
  left: readonly QuickCheck[],
): Promise<void> {
  say(`\n   ${'point'.padEnd(10)}${'as found'.padEnd(22)}${'as left'.padEnd(22)}tolerance`)
  const short: string[] = []
  for (const [i, point] of points.entries()) {
    const cell = (done: QuickCheck | undefined) => {
      if (!done) return missing(`check of ${point.tag}`)
      const { verdict, worst } = evaluateQuickCheck(done, point)
      return { verdict, text: `${verdict}${worst ? `, ${toDecimal(worst.intervals, 1)} d` : ''}` }
    }
    const [before, after] = [cell(found[i]), cell(left[i])]
    say(`   ${point.tag.padEnd(10)}${before.text.padEnd(22)}${after.text.padEnd(22)}${point.tolerance?.value} ${point.unit}`)
    if (after.verdict !== 'within') short.push(`${point.tag} as left is ${after.verdict}`)
    const sheet = need(await host.call('sheet.read', { pointId: point.id }), `${point.tag}: handover sheet`, (f) => f.why)
    writeFileSync(sheetFile(out, point.tag), sheet.html)
  }
  if (short.length > 0) throw new Shortfall(short.join('; '))
}
