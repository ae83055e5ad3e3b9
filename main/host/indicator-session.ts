import { type BusFailure, isFromGateway } from '../../app/contract/bus-failure.ts'
import type {
  Difference,
  IdentityView,
  IndicatorView,
  OpenWrite,
  WriteFailure,
  WritePreview,
  WriteReceipt,
} from '../../app/contract/views.ts'
import { sameValue } from '../../app/job/same-value.ts'
import type { Indicator, Intended, Point, SettingsImage } from '../../app/job/schema.ts'
import type { CodecFailure } from '../../app/profile/codec.ts'
import { isScaling } from '../../app/profile/scaling-registers.ts'
import { type CommandName, registerKey } from '../../app/profile/schema.ts'
import { differences, encodeIntended, findRegister, moved, settingRegisters, unitFrom } from '../../app/profile/settings.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { excitationsBeyond } from '../../app/scaling/sensor-limits.ts'
import type { JournalFolder, OpenJournal } from '../files/write-journal.ts'
import { identify } from '../indicator/identify.ts'
import { runSteps } from '../indicator/procedure.ts'
import { safeWrite } from '../indicator/safe-write.ts'
import type { UnitIo } from '../indicator/unit-io.ts'
import { askWho, type Who } from '../indicator/who-answers.ts'
import { readImage, type Wanted } from '../indicator/write-context.ts'
import { type MoveRules, type Refusal, sessionMove } from './session-move.ts'
import { type ReachOptions, unitReach } from './unit-reach.ts'
import type { HostClock } from './world.ts'

/** `of`: what was intended for the indicator, where it is that which would be written. */
type Preview = { shown: WritePreview; before: SettingsImage; wanted: Wanted[]; of?: Intended | undefined }

export type SessionOptions = ReachOptions &
  MoveRules & {
    indicator: Indicator
    clock: HostClock
    journal: JournalFolder
    /** What is intended for the indicator now, over all its points. */
    intended(): Intended
    points(): Point[]
    by(): string
    newId(stem: string): string
    publish(view: IndicatorView): void
    log(line: Record<string, unknown>): Result<null, string>
  }

const notAsked: IdentityView = { outcome: 'not-asked', tests: [], compareWithPanel: [] }

/** One indicator as this host knows it: identified, read, compared, written, restored. */
export function createIndicatorSession(options: SessionOptions) {
  const { profile, clock, indicator, journal } = options
  const reach = unitReach(options)
  const move = sessionMove(reach, options, clock)
  const previews = new Map<string, Preview>()
  let view: IndicatorView = {
    answering: 'not-asked',
    identity: notAsked,
    held: null,
    differs: [],
    writing: null,
    lastWrite: null,
    openWrite: pendingWrite()?.shown ?? null,
  }

  function show(change: Partial<IndicatorView>): void {
    view = { ...view, ...change }
    options.publish(view)
  }

  function pendingWrite(): { shown: OpenWrite; open: OpenJournal } | null {
    const open = journal.open().find((j) => j.begin.indicatorId === indicator.id)
    if (!open) return null
    const { begin, journalId } = open
    const wanted = begin.wanted.map((w): Difference => ({ key: w.key, held: begin.before.values[w.key]?.value ?? null, intended: w.value }))
    return { open, shown: { journalId, startedAt: begin.at, by: begin.by, wanted } }
  }

  function heard<T>(result: Result<T, BusFailure>): Result<T, BusFailure> {
    // A refusal is an answer: the unit is there.
    show({ answering: result.ok || (result.failure.kind === 'refused' && !isFromGateway(result.failure)) ? 'yes' : result.failure })
    return result
  }

  function compare(held: SettingsImage | null): Difference[] {
    if (!held) return []
    const found = differences(profile, held, options.intended())
    return found.ok ? found.value : []
  }

  async function read(): Promise<Result<SettingsImage, BusFailure>> {
    const image = heard(await readImage(reach.io(), clock.stamp))
    if (image.ok) show({ held: image.value, differs: compare(image.value) })
    return image
  }

  async function identifyNow(): Promise<Result<IdentityView, BusFailure>> {
    const found = heard(await identify(reach.io()))
    if (found.ok) show({ identity: found.value })
    return found
  }

  function vouch(agreesWithPanel: boolean): IdentityView {
    const outcome = view.identity.outcome === 'cannot-tell' ? (agreesWithPanel ? 'confirmed' : 'contradicted') : view.identity.outcome
    show({ identity: { ...view.identity, outcome } })
    return view.identity
  }

  const writingContext = () => ({
    io: reach.io(),
    clock,
    stamp: clock.stamp,
    onStep: (step: NonNullable<IndicatorView['writing']>['step'], done: number, of: number) => show({ writing: { step, done, of } }),
  })

  /** Why this indicator must not be written now; null where it may. An interrupted write bars every other one. */
  function forbidden(resolving = false): string | null {
    if (view.writing) return 'A write is under way; wait until it has ended.'
    if (indicator.sealed && !indicator.sealed.broken) return sealedWhy(indicator.sealed.seals)
    if (view.openWrite && !resolving) return 'An earlier write was interrupted. Restore, complete or leave it first.'
    if (view.identity.outcome === 'contradicted')
      return `The unit is not ${profile.name}: ${view.identity.tests
        .filter((t) => !t.agrees)
        .map((t) => `${t.register} reads ${t.got}, not ${t.expected}`)
        .join('; ')}.`
    if (view.identity.outcome !== 'confirmed')
      return 'The unit is not identified. Identify it, or compare three register values with its front panel.'
    return null
  }

  function commandForbidden(name: CommandName): string | null {
    if (!profile.commands[name]) return `This indicator has no ${name} command over the bus.`
    if (view.writing) return 'A write is under way; wait until it has ended.'
    if (indicator.sealed && !indicator.sealed.broken) return sealedWhy(indicator.sealed.seals)
    return view.identity.outcome === 'confirmed' ? null : 'The unit is not identified.'
  }

  function wantedFrom(list: readonly Difference[], words: ReadonlyMap<string, readonly number[]>): Wanted[] {
    return list.flatMap((d) => {
      const register = findRegister(profile, d.key)
      const encoded = words.get(d.key)
      return register && encoded ? [{ register, words: encoded, value: d.intended }] : []
    })
  }

  function addressWanted(unit: number, held: SettingsImage): Result<Wanted[], Refusal> {
    const register = findRegister(profile, 'bus.address')
    if (register?.access !== 'read-write')
      return fail({ kind: 'refused-request', why: `${profile.name} takes no address over the bus; set it at its front panel or switches.` })
    const words = encodeIntended(profile, { 'bus.address': String(unit) }, held)
    return words.ok ? ok([{ register, words: words.value.get('bus.address') ?? [], value: String(unit) }]) : fail(refused(words.failure))
  }

  function keepPreview(before: SettingsImage, writes: Difference[], wanted: Wanted[], of?: Intended): WritePreview {
    const { unlock, save, restart } = profile.procedures
    const names = new Set(wanted.map((w) => w.register.name))
    const beyond = excitationsBeyond(options.points(), profile, Object.fromEntries(wanted.map((w) => [registerKey(w.register), w.value])))
    const shown: WritePreview = {
      previewId: options.newId('preview'),
      indicatorId: indicator.id,
      writes,
      touches: options.points().map((p) => ({ pointId: p.id, tag: p.tag })),
      procedure: {
        unlocks: unlock !== undefined,
        saves: save !== undefined,
        restarts: restart !== undefined && wanted.some((w) => w.register.takesEffect === 'after-restart'),
      },
      moves: profile.dependencies
        .filter((d) => names.has(d.when))
        .map((d) => ({ when: d.when, moves: d.moves, ...(d.why ? { why: d.why } : {}) })),
      cautions: [...move.cautions(wanted), ...beyond, ...cautions(names)],
    }
    previews.clear()
    previews.set(shown.previewId, { shown, before, wanted, of })
    return shown
  }

  /** `resolving`: an older journal stays open until this succeeds, and only that one knows the way back. */
  async function write(before: SettingsImage, wanted: Wanted[], resolving = false): Promise<Result<WriteReceipt, WriteFailure>> {
    const by = options.by()
    show({ writing: { step: 'reading-again', done: 0, of: wanted.length } })
    const prepared = await move.prepare(wanted)
    if (!prepared.ok) {
      show({ writing: null, lastWrite: { ok: false, failure: prepared.failure } })
      return prepared
    }
    const moving = prepared.value
    const { unit } = reach.place()
    const begun = journal.begin({
      kind: 'begin',
      at: clock.stamp(),
      by,
      indicatorId: indicator.id,
      unit,
      profileId: profile.id,
      before,
      ...(moving ? { place: moving.place, who: copied(moving.who) } : {}),
      wanted: wanted.map((w) => ({ key: registerKey(w.register), value: w.value, words: [...w.words] })),
    })
    if (!begun.ok) {
      const failure = {
        kind: 'not-allowed' as const,
        why: `The journal of the write cannot be kept, so nothing was written. ${begun.failure}`,
      }
      show({ writing: null, lastWrite: { ok: false, failure } })
      return fail(failure)
    }
    const log = begun.value
    show({ writing: { step: 'journalled', done: 0, of: wanted.length }, lastWrite: null })
    const end = await safeWrite(writingContext(), before, wanted, log, moving ?? undefined)
    const result = moving ? await move.settle(moving, end, log) : end.result
    if (resolving && !result.ok) log.note({ kind: 'end', at: clock.stamp(), outcome: 'left' })
    log.close()
    show({
      writing: null,
      lastWrite: result.ok ? { ok: true, receipt: result.value } : { ok: false, failure: result.failure },
      openWrite: pendingWrite()?.shown ?? null,
      ...(end.image ? { held: end.image, differs: compare(end.image) } : {}),
    })
    // Where the disk does not take this line the write is told from its journal.
    options.log({ at: clock.stamp(), by, indicatorId: indicator.id, unit, journalId: log.journalId, result })
    return result
  }

  return {
    profile,
    get io(): UnitIo {
      return reach.io()
    },
    view: () => view,
    refresh: () => show({ differs: compare(view.held), openWrite: pendingWrite()?.shown ?? null }),
    read,
    /** Told by the live loop; shown only when it changes, since polling is frequent. */
    heardLive(answering: IndicatorView['answering']): void {
      const kind = (a: IndicatorView['answering']) => (typeof a === 'string' ? a : a.kind)
      if (kind(answering) !== kind(view.answering)) show({ answering })
    },

    identify: identifyNow,

    vouch,

    async preview(): Promise<Result<WritePreview, BusFailure | Refusal>> {
      if (view.writing) return fail(beingWritten)
      const image = await read()
      if (!image.ok) return image
      const intended = options.intended()
      const writes = differences(profile, image.value, intended)
      const words = encodeIntended(profile, intended, image.value)
      if (!writes.ok) return fail(refused(writes.failure))
      if (!words.ok) return fail(refused(words.failure))
      const wanted = wantedFrom(writes.value, words.value)
      const no = move.barred(wanted)
      return no ? fail(no) : ok(keepPreview(image.value, writes.value, wanted, intended))
    },

    async previewRestore(to: SettingsImage): Promise<Result<WritePreview, BusFailure | Refusal>> {
      if (view.writing) return fail(beingWritten)
      const image = await read()
      if (!image.ok) return image
      const list = moved(profile, image.value, to)
      const words = new Map(list.map((d) => [d.key, to.values[d.key]?.words ?? []]))
      const wanted = wantedFrom(list, words)
      const no = move.barred(wanted)
      return no ? fail(no) : ok(keepPreview(image.value, list, wanted))
    },

    /** Lists what giving the indicator this address would do; nothing else that is intended comes into it. */
    async previewAddress(unit: number): Promise<Result<WritePreview, BusFailure | Refusal>> {
      const image = await read()
      if (!image.ok) return image
      const wanted = addressWanted(unit, image.value)
      if (!wanted.ok) return wanted
      const no = move.barred(wanted.value)
      const held = image.value.values['bus.address']?.value ?? null
      return no
        ? fail(no)
        : ok(keepPreview(image.value, held === String(unit) ? [] : [{ key: 'bus.address', held, intended: String(unit) }], wanted.value))
    },

    /** Gives the unit that answers at `from`, and is the one told by `who`, this indicator's own address, and goes on with it there. */
    async adopt(from: number, who: Who, agreesWithPanel: boolean): Promise<Result<WriteReceipt, WriteFailure>> {
      const home = reach.place()
      const notAllowed = (why: string) => fail<WriteFailure>({ kind: 'not-allowed', why })
      if (view.writing) return notAllowed('A write is under way; wait until it has ended.')
      if (view.openWrite) return notAllowed('An earlier write was interrupted. Restore, complete or leave it first.')
      await reach.goTo({ ...home, unit: from })
      const result = await adoptHere()
      if (!result.ok) await reach.goTo(home)
      return result

      async function adoptHere(): Promise<Result<WriteReceipt, WriteFailure>> {
        const there = await askWho(reach.io(), who)
        if (there.kind !== 'ours')
          return notAllowed(`The unit that was found at address ${from} is not the one that answers there now. Look again.`)
        const identity = await identifyNow()
        if (identity.ok && agreesWithPanel) vouch(true)
        const why = forbidden()
        if (why) return notAllowed(why)
        const image = await read()
        if (!image.ok)
          return fail({ kind: 'failed', because: image.failure, during: 'reading-again', end: 'nothing-written', parameters: [] })
        const wanted = addressWanted(home.unit, image.value)
        return wanted.ok ? write(image.value, wanted.value) : notAllowed(wanted.failure.why)
      }
    },

    /** Writes a preview shown before. Reads everything again first; if it differs from what was shown, stops and shows. */
    async writePreview(previewId: string): Promise<Result<WriteReceipt, WriteFailure>> {
      const preview = previews.get(previewId)
      if (!preview) return fail({ kind: 'not-allowed', why: 'This preview is no longer current. Review again.' })
      const why = forbidden()
      if (why) return fail({ kind: 'not-allowed', why })
      if (preview.wanted.length === 0) return fail({ kind: 'not-allowed', why: 'Nothing differs: the indicator holds what is intended.' })
      previews.delete(previewId)
      if (preview.of && !sameValue(preview.of, options.intended()))
        return fail({ kind: 'not-allowed', why: 'What is intended is no longer what was shown. Nothing was written; review again.' })
      show({ writing: { step: 'reading-again', done: 0, of: preview.wanted.length } })
      const again = await read()
      if (!again.ok) {
        const failure: WriteFailure = {
          kind: 'failed',
          because: again.failure,
          during: 'reading-again',
          end: 'nothing-written',
          parameters: [],
        }
        show({ writing: null, lastWrite: { ok: false, failure } })
        return fail(failure)
      }
      const changed = moved(profile, preview.before, again.value)
      if (changed.length > 0) {
        const failure: WriteFailure = { kind: 'changed-meanwhile', changed }
        show({ writing: null, lastWrite: { ok: false, failure } })
        return fail(failure)
      }
      return write(again.value, preview.wanted)
    },

    /** Ends an interrupted write: by a fresh read and an ordinary safe write of the old or the new values, or by leaving it. */
    async resolveJournal(journalId: string, how: 'restore' | 'complete' | 'leave'): Promise<Result<WriteReceipt, WriteFailure>> {
      const pending = pendingWrite()
      if (pending?.open.journalId !== journalId) return fail({ kind: 'not-allowed', why: 'This write is no longer open.' })
      if (how !== 'leave' && !view.writing && pending.open.begin.place) {
        show({ writing: { step: 'following', done: 0, of: pending.open.begin.wanted.length } })
        const found = await move.goWhereItIs(pending.open)
        show({ writing: null })
        if (!found.ok) return found
        if (view.identity.outcome !== 'confirmed') await identifyNow()
      }
      const why = how === 'leave' ? null : forbidden(true)
      if (why) return fail({ kind: 'not-allowed', why })
      const image = how === 'leave' ? null : await read()
      if (image && !image.ok)
        return fail({ kind: 'failed', because: image.failure, during: 'reading-again', end: 'nothing-written', parameters: [] })
      /** Says why where the disk does not take it; the write then stays open. */
      const end = (outcome: 'written' | 'restored' | 'left'): Result<null, WriteFailure> => {
        const log = journal.reopen(journalId)
        const at = clock.stamp()
        const noted = log.ok ? log.value.note({ kind: 'end', at, outcome, ...(image?.ok ? { now: image.value.values } : {}) }) : log
        if (log.ok) log.value.close()
        show({ openWrite: pendingWrite()?.shown ?? null })
        if (noted.ok) return ok(null)
        const why = typeof noted.failure === 'string' ? noted.failure : noted.failure.why
        return fail({
          kind: 'not-allowed',
          why: `The journal of the write could not be ended: ${why} Make room on the disk, then do this again.`,
        })
      }
      if (!image?.ok) {
        const left = end('left')
        return left.ok ? ok({ written: [], alsoMoved: [], saved: false }) : left
      }
      const { begin } = pending.open
      const wanted = begin.wanted.flatMap((w): Wanted[] => {
        const register = findRegister(profile, w.key)
        const old = begin.before.values[w.key]
        if (!register || !old) return []
        return [
          how === 'complete'
            ? { register, words: w.words, value: w.value }
            : { register, words: old.words, value: old.value ?? `words ${old.words.join(' ')}` },
        ]
      })
      // Written even where volatile memory already agrees: what is saved may still be the other half.
      const result = await write(image.value, wanted, true)
      if (!result.ok) return result
      const ended = end(how === 'complete' ? 'written' : 'restored')
      return ended.ok ? result : ended
    },

    commandForbidden,

    async command(name: CommandName, channel: number): Promise<Result<null, BusFailure | { kind: 'refused-request'; why: string }>> {
      const procedure = profile.commands[name]
      const why = commandForbidden(name)
      if (why !== null || !procedure) return fail({ kind: 'refused-request', why: why ?? '' })
      const done = heard(await runSteps(reach.io(), procedure.steps, clock, channel))
      const logged = options.log({
        at: clock.stamp(),
        by: options.by(),
        indicatorId: indicator.id,
        unit: reach.place().unit,
        command: name,
        channel,
        result: done,
      })
      if (!logged.ok && done.ok)
        return fail({
          kind: 'refused-request',
          why: `It was done, but the log of writes does not say so: ${logged.failure} Note it by hand.`,
        })
      return done
    },

    forbidden,
    unitOf: (key: string): string | undefined => {
      const r = findRegister(profile, key)
      return r && unitFrom(profile, r, (k) => view.held?.values[k]?.value)
    },
    settingCount: () => settingRegisters(profile).length,
  }
}

export type IndicatorSession = ReturnType<typeof createIndicatorSession>

const beingWritten: Refusal = { kind: 'refused-request', why: 'A write is under way; wait until it has ended.' }

const copied = (who: Who) => Object.fromEntries(Object.entries(who).map(([key, words]) => [key, [...words]]))

const sealedWhy = (seals: string) => `The indicator is sealed (${seals}). Writing needs a name, a reason and the seal numbers.`

const refused = (failure: CodecFailure & { key: string }) => ({ kind: 'refused-request' as const, why: failure.why, where: failure.key })

/** Short and to the point; the page shows them once, above the button. */
function cautions(names: ReadonlySet<string>): string[] {
  const list: string[] = []
  if ([...names].some((n) => isScaling(n) || n.startsWith('reading.') || n.startsWith('input.') || n.startsWith('excitation.')))
    list.push('The reading will jump. Loop in manual, outputs and trips isolated, nobody under the load.')
  if (names.has('excitation.voltage')) list.push('The excitation changes: it must not exceed what any connected sensor stands.')
  list.push('Local rules and licensed practice come first.')
  return list
}
