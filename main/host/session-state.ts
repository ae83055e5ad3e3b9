import { type BusFailure, isFromGateway } from '../../app/contract/bus-failure.ts'
import type { Difference, IdentityView, IndicatorView, LiveSample, OpenWrite } from '../../app/contract/views.ts'
import type { Indicator, Intended, Point, SettingsImage, Visit } from '../../app/job/schema.ts'
import { differences } from '../../app/profile/settings.ts'
import type { Result } from '../../app/result.ts'
import type { JournalFolder, OpenJournal } from '../files/write-journal.ts'
import { identify } from '../indicator/identify.ts'
import { readImage } from '../indicator/write-context.ts'
import { type MoveRules, sessionMove } from './session-move.ts'
import { type ReachOptions, unitReach } from './unit-reach.ts'
import type { HostClock } from './world.ts'

export type SessionOptions = ReachOptions &
  MoveRules & {
    indicator: Indicator
    clock: HostClock
    journal: JournalFolder
    /** What is intended for the indicator now, over all its points. */
    intended(): Intended
    points(): Point[]
    /** The visit that is going on. */
    visit(): Visit | undefined
    /** What a point reads now; undefined where that is not known. */
    sample(pointId: string): LiveSample | undefined
    by(): string
    newId(stem: string): string
    publish(view: IndicatorView): void
    log(line: Record<string, unknown>): Result<null, string>
  }

export type SessionState = ReturnType<typeof sessionState>

const notAsked: IdentityView = { outcome: 'not-asked', tests: [], compareWithPanel: [] }

/** What one session knows of its indicator and shows of it: identified, read, compared. */
export function sessionState(options: SessionOptions) {
  const { profile, clock, indicator, journal } = options
  const reach = unitReach(options)
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

  /** The interrupted write of this indicator, as shown and as the journal has it. */
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

  const withHeld = (held: SettingsImage) => ({ held, differs: compare(held) })

  return {
    options,
    reach,
    move: sessionMove(reach, options, clock),
    view: () => view,
    show,
    pendingWrite,
    heard,
    refresh: () => show({ differs: compare(view.held), openWrite: pendingWrite()?.shown ?? null }),
    /** What is to be shown with these settings. */
    withHeld,

    async read(): Promise<Result<SettingsImage, BusFailure>> {
      const image = heard(await readImage(reach.io(), clock.stamp))
      if (image.ok) show(withHeld(image.value))
      return image
    },

    async identify(): Promise<Result<IdentityView, BusFailure>> {
      const found = heard(await identify(reach.io()))
      if (found.ok) show({ identity: found.value })
      return found
    },

    vouch(agreesWithPanel: boolean): IdentityView {
      const outcome = view.identity.outcome === 'cannot-tell' ? (agreesWithPanel ? 'confirmed' : 'contradicted') : view.identity.outcome
      show({ identity: { ...view.identity, outcome } })
      return view.identity
    },
  }
}
