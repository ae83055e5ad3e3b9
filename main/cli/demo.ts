import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { explainBusFailure } from '../../app/contract/bus-failure.ts'
import type { WriteFailure } from '../../app/contract/views.ts'
import { evaluateQuickCheck } from '../../app/evaluation/quick-check.ts'
import type { Point, QuickCheck } from '../../app/job/schema.ts'
import { toDecimal } from '../../app/quantity/exact.ts'
import { impliedByHeld } from '../../app/scaling/implied.ts'
import { proposeScaling } from '../../app/scaling/propose-scaling.ts'
import type { Host } from '../host/host.ts'
import { openHost } from '../open-host.ts'

type Say = (line: string) => void

/** The main job on the practice bench through the real parts. Returns the exit code: 0 only if every step held. */
export async function demo(options: { out?: string }): Promise<number> {
  const say: Say = (line) => console.log(line)
  const out = options.out ? resolve(options.out) : mkdtempSync(join(tmpdir(), 'spanwright-demo-'))
  mkdirSync(out, { recursive: true })
  const opened = await openHost({ jobPath: join(out, 'demo.job.json'), shell: 'command line', address: 'demo', practice: true })
  if (!opened.ok) {
    console.error(`${opened.failure.where}: ${opened.failure.why}`)
    return 1
  }
  const { host, practice } = opened.value
  try {
    say('Practice bench: simulated indicators, no real machine.')
    if (practice?.serialNote) say(practice.serialNote)
    await walk(host, out, say)
    say(`\nEvery step held. Job and handover sheets: ${out}`)
    return 0
  } catch (cause) {
    if (!(cause instanceof Shortfall)) throw cause
    say(`\nNot held: ${cause.message}`)
    return 1
  } finally {
    await host.close()
  }
}

/** A step of the demo that did not come out as it must. */
class Shortfall extends Error {}

function need<T, F>(result: { ok: true; value: T } | { ok: false; failure: F }, what: string, explain: (failure: F) => string): T {
  if (result.ok) return result.value
  throw new Shortfall(`${what}: ${explain(result.failure)}`)
}

const why = (failure: { kind: string; why?: string }): string =>
  'why' in failure && failure.why ? failure.why : explainBusFailure(failure as Parameters<typeof explainBusFailure>[0])

async function walk(host: Host, out: string, say: Say): Promise<void> {
  need(await host.call('visit.start', { by: 'Demo' }), 'start of the visit', why)
  say('\n1  Listening, then identifying and reading as found')
  await host.start()
  const job = () => host.topics.get('job') ?? missing('job')
  for (const bus of job().buses) {
    const view = host.topics.get('bus', bus.id)
    if (view?.state !== 'open') throw new Shortfall(`${bus.name}: ${view?.why ?? view?.state}`)
  }
  for (const point of job().points) await bringIntoService(host, point.id, out, say)
}

async function bringIntoService(host: Host, pointId: string, out: string, say: Say): Promise<void> {
  const point = (): Point => host.topics.get('job')?.points.find((p) => p.id === pointId) ?? missing(pointId)
  const indicatorId = point().indicatorId ?? missing('indicator')
  const view = () => host.topics.get('indicator', indicatorId) ?? missing(indicatorId)
  const revision = () => host.topics.get('job')?.revision ?? 0
  const { tag, unit } = point()
  const profile = host.profileOf(indicatorId) ?? missing('profile')
  if (view().identity.outcome !== 'confirmed') throw new Shortfall(`${tag}: identity ${view().identity.outcome}`)
  const held = view().held ?? missing('settings')
  say(`   ${tag}: ${profile.name}, ${Object.keys(held.values).length} settings kept as found`)

  const implied = impliedByHeld(point(), profile, held)
  if (implied.ok) say(`   ${tag}: what it holds implies ${implied.value.summary}`)

  say('2  Check as found')
  const found = await check(host, pointId, 'as-found', say)
  say(`   ${describe(found)}`)

  say('3  Scaling from the certificates, zero as measured')
  need(await host.call('point.measure-zero', { pointId, revision: revision() }), `${tag}: measured zero`, (f) =>
    'why' in f ? f.why : f.kind,
  )
  const { zeroSignal } = point().measured
  say(`   ${tag}: unloaded it gives ${zeroSignal?.value} ${zeroSignal?.unit}`)
  const proposal = proposeScaling(point(), profile, zeroSignal ? { zeroSignal } : {})
  if (!proposal.ok) throw new Shortfall(`${tag}: no scaling from the certificates (${proposal.failure.kind})`)
  for (const [key, value] of Object.entries(proposal.value.intended)) say(`   ${key.padEnd(24)} ${value}`)
  need(
    await host.call('point.intend', { pointId, revision: revision(), values: proposal.value.intended }),
    `${tag}: intended values`,
    (f) => ('why' in f ? f.why : f.kind),
  )

  say('4  Writing, journalled and read back')
  const preview = need(await host.call('settings.preview', { indicatorId }), `${tag}: preview`, why)
  for (const d of preview.writes) say(`   ${d.key.padEnd(24)} ${d.held ?? 'not read'} becomes ${d.intended}${d.unit ? ` ${d.unit}` : ''}`)
  const receipt = need(await host.call('settings.write', { previewId: preview.previewId }), `${tag}: write`, explainWrite)
  say(
    `   ${receipt.written.length} settings written, read back equal, ${receipt.saved ? 'saved in the indicator' : 'not saved'}; ${receipt.alsoMoved.length} others moved`,
  )
  if (view().differs.length > 0) throw new Shortfall(`${tag}: ${view().differs.length} settings still differ`)

  say('5  Check as left')
  const left = await check(host, pointId, 'as-left', say)
  const evaluation = evaluateQuickCheck(left, point())
  say(`   ${describe(left)}`)
  const sheet = need(await host.call('sheet.read', { pointId }), `${tag}: handover sheet`, (f) => f.why)
  const path = join(out, `${tag}.handover.html`)
  writeFileSync(path, sheet.html)
  say(`   handover sheet: ${path}`)
  if (evaluation.verdict !== 'within')
    throw new Shortfall(`${tag} as left is ${evaluation.verdict}, tolerance ${point().tolerance?.value} ${unit}`)

  function describe(done: QuickCheck): string {
    const e = evaluateQuickCheck(done, point())
    return `${tag} ${done.when.replace('-', ' ')}: ${e.verdict}${e.worst ? `, largest error ${toDecimal(e.worst.error, 1)} ${unit} = ${toDecimal(e.worst.intervals, 1)} d` : ''}`
  }
}

async function check(host: Host, pointId: string, when: 'as-found' | 'as-left', say: Say): Promise<QuickCheck> {
  const point = host.topics.get('job')?.points.find((p) => p.id === pointId) ?? missing(pointId)
  const { id: checkId } = need(await host.call('check.start', { pointId, when }), 'check', (f) => f.why)
  for (const load of ['0', half(point.maximumLoad), '0']) {
    need(await host.call('practice.load', { pointId, load }), 'load', (f) => f.why)
    const captured = await whenSteady(host, checkId, load)
    say(`   ${load.padStart(8)} ${point.unit} on: reads ${captured.steps.at(-1)?.reading} ${point.unit}`)
  }
  return need(await host.call('check.finish', { checkId }), 'check', (f) => f.why)
}

const half = (load: string) => String(Number(load) / 2)
const longestWaitMs = 20_000

/** Captures as soon as the reading is steady; gives the indicator's filter time to arrive first. */
async function whenSteady(host: Host, checkId: string, load: string): Promise<QuickCheck> {
  const until = performance.now() + longestWaitMs
  await pause(2_500)
  for (;;) {
    const captured = await host.call('check.capture', { checkId, load })
    if (captured.ok) return captured.value
    if (performance.now() > until) throw new Shortfall(`no steady reading at ${load}: ${captured.failure.why}`)
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

function missing(what: string): never {
  throw new Shortfall(`${what} is missing`)
}
