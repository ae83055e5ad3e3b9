import type { WritePreview } from '../../app/contract/views.ts'
import { type CommandEnd, ended, failedBy, type HostFailure } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { guardedWrite, writeEnded, writingWords } from './guarded-write.ts'
import { describeIdentity } from './identify.ts'
import type { IndicatorOptions, Reached } from './open-job.ts'
import type { Around } from './run-command.ts'
import { previewLines, receiptLines } from './setting-lines.ts'

export type WriteOptions = IndicatorOptions & { by?: string; yes?: boolean; dryRun?: boolean; panelAgrees?: boolean }

type Previewing = () => Promise<{ ok: true; value: WritePreview } | { ok: false; failure: HostFailure }>

/** Identifies, previews, and writes what was previewed where that is confirmed; the host decides what is allowed. */
export async function previewAndWrite(
  { host, indicator, profile, shown }: Reached,
  options: WriteOptions,
  around: Around,
  preview: Previewing,
): Promise<CommandEnd> {
  const { progress, interrupts } = around
  const indicatorId = indicator.id
  const open = host.topics.get('indicator', indicatorId)?.openWrite
  if (open && !options.dryRun)
    return ended(exitCode.notAllowed, {
      why: `The write of ${open.startedAt} by ${open.by} was interrupted. End it first: spanwright settings resolve --how restore, complete or leave.`,
      detail: open,
    })
  progress.say('Identifying')
  const identity = await host.call('indicator.identify', { indicatorId })
  if (!identity.ok) return failedBy(identity.failure)
  if (identity.value.outcome === 'cannot-tell' && options.panelAgrees) await host.call('indicator.vouch', { indicatorId, agrees: true })
  progress.say('Reading all settings')
  const previewed = await preview()
  if (!previewed.ok) return failedBy(previewed.failure)
  const { value: shownPreview } = previewed
  const lines = previewLines(shownPreview)
  const nothing = shownPreview.writes.length === 0
  if (options.dryRun || nothing)
    return { exit: exitCode.done, lines, json: { ok: true, indicator: shown, wrote: false, preview: shownPreview } }
  if (!options.yes) {
    const unknown = identity.value.outcome === 'confirmed' ? [] : describeIdentity(indicator.name, profile, identity.value)
    return ended(exitCode.notAllowed, { why: 'Nothing was written: give --yes to write this.', detail: shownPreview }, [
      ...unknown,
      ...lines,
    ])
  }
  if (!around.json) for (const line of lines) around.note(line)
  if (interrupts.signal.aborted) return failedBy({ kind: 'stopped' })

  const work = host.call('settings.write', { previewId: shownPreview.previewId })
  const written = await guardedWrite(host, indicatorId, around, work, {
    step: writingWords,
    first: 'A write is under way: it is finished, or the old values are put back, before this ends.',
  })
  if (written.ok)
    return {
      exit: exitCode.done,
      lines: receiptLines(written.value),
      json: { ok: true, indicator: shown, wrote: true, receipt: written.value },
    }
  return writeEnded(written.failure)
}
