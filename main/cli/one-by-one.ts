import { setTimeout as pause } from 'node:timers/promises'
import type { IdentityView, WriteReceipt } from '../../app/contract/views.ts'
import type { Indicator } from '../../app/job/schema.ts'
import { placeText } from '../../app/profile/bus-registers.ts'
import { keptWords } from '../../app/profile/kept.ts'
import type { Host } from '../host/host.ts'
import { type CommandEnd, ended, failedBy, misused } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { guardedWrite, writeEnded, writingWords } from './guarded-write.ts'
import { describeIdentity } from './identify.ts'
import { type JobOptions, type Reached, reach, type ShownIndicator, withJob } from './open-job.ts'
import type { Around } from './run-command.ts'
import { receiptLines } from './setting-lines.ts'
import { startVisit } from './visit.ts'

export type OneByOneOptions = JobOptions & { at?: number; by?: string; yes?: boolean; dryRun?: boolean; panelAgrees?: boolean }

/** Between two looks at a line where nobody answered, in ms: soon enough for who has just plugged one in. */
const betweenLooksMs = 500

type Outcome =
  | { how: 'given'; indicator: ShownIndicator; receipt: WriteReceipt; answersAtOld: 'nobody' | 'one' | 'unclear' }
  /** It answers at its own address, or is to have the one where new units are. */
  | { how: 'left'; indicator: ShownIndicator; why: string }

/** Waits for each new unit in turn and gives it the address that the job has for it. Ctrl-C ends it between two, or after a write. */
export async function giveOneByOne(options: OneByOneOptions, names: readonly string[] | null, around: Around): Promise<CommandEnd> {
  const { by } = options
  if (by === undefined && !options.dryRun) return misused('Say who is at the machine: --by NAME. A write is logged with a name.')
  return withJob(options, around, async (host) => {
    const chosen = choose(host, names)
    if (typeof chosen === 'string') return misused(chosen)
    const plan = chosen.map((i) => `  ${i.name} (${i.id}): address ${i.unit}`)
    if (options.dryRun) return { exit: exitCode.done, lines: ['One after another:', ...plan], json: report(chosen, [], false) }
    if (!options.yes)
      return ended(exitCode.notAllowed, { why: 'Nothing was sent: give --yes to give these addresses as units are connected.' }, plan)
    const refused = by === undefined ? null : await startVisit(host, by)
    if (refused) return refused

    const outcomes: Outcome[] = []
    for (const indicator of chosen) {
      const outcome = await giveNext(host, indicator, options, around)
      if (outcome === 'interrupted' || around.interrupts.signal.aborted) {
        if (typeof outcome === 'object' && 'how' in outcome) outcomes.push(outcome)
        else if (typeof outcome === 'object') return withDone(outcome, chosen, outcomes)
        return { exit: exitCode.done, lines: ['Ended early.', ...doneLines(chosen, outcomes)], json: report(chosen, outcomes, false) }
      }
      if (!('how' in outcome)) return withDone(outcome, chosen, outcomes)
      outcomes.push(outcome)
    }
    return { exit: exitCode.done, lines: doneLines(chosen, outcomes), json: report(chosen, outcomes, true) }
  })
}

async function giveNext(
  host: Host,
  indicator: Indicator,
  options: OneByOneOptions,
  around: Around,
): Promise<Outcome | CommandEnd | 'interrupted'> {
  const { signal } = around.interrupts
  const reached = await reach(host, indicator, around)
  if (!reached.ok) return signal.aborted ? 'interrupted' : reached.failure
  const { profile, shown } = reached.value
  const indicatorId = indicator.id
  const at = options.at ?? profile.serial?.unit
  const left = (why: string): Outcome => {
    around.note(`${indicator.name}: ${why}`)
    return { how: 'left', indicator: shown, why }
  }
  if (at === indicator.unit) return left(`its address ${at} is the one where new units are. Connect it last, and leave it as it is.`)
  around.progress.say(`Asking whether ${indicator.name} is at address ${indicator.unit} already`)
  const there = await host.call('indicator.identify', { indicatorId })
  if (there.ok) return left(`it answers at address ${indicator.unit} already; left as it is.`)
  around.note(
    `Connect and power the unit that is to become ${indicator.name}, and no other new one${at === undefined ? '' : `. It is looked for at address ${at}`}.`,
  )
  let said = ''
  const sayOnce = (text: string) => {
    if (text !== said && text !== '') around.note(text)
    said = text
  }
  while (!signal.aborted) {
    around.progress.say(`Waiting for ${indicator.name}; Ctrl-C ends`)
    const look = await host.call('address.look', { indicatorId, ...(options.at === undefined ? {} : { at: options.at }) })
    if (!look.ok) return signal.aborted ? 'interrupted' : failedBy(look.failure)
    const { lookId, identity, advice } = look.value
    sayOnce(advice)
    if (lookId !== null && identity) {
      const no = unfit(reached.value, identity, options)
      if (!no) return give(reached.value, lookId, options, around)
      sayOnce(no)
    }
    await pause(betweenLooksMs, undefined, { signal }).catch(() => undefined)
  }
  return 'interrupted'
}

/** Why the unit that was found is not given an address; null where it may be. */
function unfit({ profile }: Reached, identity: IdentityView, { panelAgrees }: OneByOneOptions): string | null {
  if (identity.outcome === 'confirmed' || (identity.outcome === 'cannot-tell' && panelAgrees)) return null
  const lines = describeIdentity('What was found', profile, identity)
  return [
    ...lines,
    identity.outcome === 'contradicted' ? 'Connect another.' : 'Where they agree, end this and start it with --panel-agrees.',
  ].join('\n')
}

async function give({ host, indicator, shown }: Reached, lookId: string, options: OneByOneOptions, around: Around) {
  if (around.interrupts.signal.aborted) return 'interrupted' as const
  around.note(`Found. It is given address ${indicator.unit}; leave it powered.`)
  const work = host.call('address.give', { lookId, agreesWithPanel: options.panelAgrees === true })
  const given = await guardedWrite(host, indicator.id, around, work, {
    step: (writing) => `${indicator.name}: ${writingWords(writing)}`,
    first: 'It is being given its address: that is finished, or taken back, before this ends.',
  })
  if (!given.ok) return writeEnded(given.failure, indicator.name)
  const { receipt, answersAtOld } = given.value
  const { moved } = receipt
  if (moved?.when === 'at-next-power-up') for (const line of receiptLines(receipt)) around.note(line)
  else around.note(`${indicator.name} answers at ${moved ? placeText(moved.to) : `address ${indicator.unit}`}, ${keptWords(receipt)}.`)
  if (answersAtOld !== 'nobody' && moved?.when === 'now')
    around.note(`Something answers at address ${moved.from.unit} still: the next new unit, if it is connected already.`)
  return { how: 'given' as const, indicator: shown, receipt, answersAtOld }
}

function choose(host: Host, names: readonly string[] | null): Indicator[] | string {
  const all = host.topics.get('job')?.indicators ?? []
  if (names === null) return all.length > 0 ? all : 'The job has no indicators.'
  const chosen: Indicator[] = []
  for (const name of names) {
    const one = all.find((i) => i.id === name) ?? all.find((i) => i.name === name)
    if (!one) return `The job has no indicator "${name}". There are ${all.map((i) => `${i.id} (${i.name})`).join(', ') || 'none'}.`
    if (!chosen.includes(one)) chosen.push(one)
  }
  return chosen
}

const remaining = (chosen: readonly Indicator[], outcomes: readonly Outcome[]) =>
  chosen.filter((i) => !outcomes.some((o) => o.indicator.id === i.id))

const report = (chosen: readonly Indicator[], outcomes: readonly Outcome[], complete: boolean) => ({
  ok: true,
  complete,
  outcomes,
  remaining: remaining(chosen, outcomes).map(({ id, name, unit, profileId }) => ({ id, name, unit, profile: profileId })),
})

const doneLines = (chosen: readonly Indicator[], outcomes: readonly Outcome[]): string[] => [
  ...outcomes.map((o) => {
    const { name, unit } = o.indicator
    if (o.how === 'left') return `${name}: ${o.why}`
    const { moved } = o.receipt
    return moved?.when === 'at-next-power-up'
      ? `${name}: given address ${unit}, which comes into force when it is switched off and on`
      : `${name}: given address ${unit}, ${keptWords(o.receipt)}`
  }),
  ...remaining(chosen, outcomes).map((i) => `${i.name}: not given address ${i.unit} yet`),
]

/** A failure, with what was done before it. */
function withDone(end: CommandEnd, chosen: readonly Indicator[], outcomes: readonly Outcome[]): CommandEnd {
  const { ok: _, ...done } = report(chosen, outcomes, false)
  const json = end.json as { detail?: unknown }
  return {
    ...end,
    lines: [...end.lines, ...doneLines(chosen, outcomes)],
    json: { ...json, detail: { because: json.detail ?? null, ...done } },
  }
}
