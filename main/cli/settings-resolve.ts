import { type Command, Option } from 'commander'
import { isBusRegister } from '../../app/profile/bus-registers.ts'
import { failed, failedBy, misused } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { guardedWrite, writeEnded, writingWords } from './guarded-write.ts'
import { describeIdentity } from './identify.ts'
import { type IndicatorOptions, withIndicator, withIndicatorOptions } from './open-job.ts'
import { describeCommand, run } from './run-command.ts'
import { differenceLine, receiptLines } from './setting-lines.ts'
import { byOption, startVisit } from './visit.ts'

type Options = IndicatorOptions & { how: 'restore' | 'complete' | 'leave'; by?: string; panelAgrees?: boolean }

/** Ends a write that was interrupted: by a kill, a lost line or a second Ctrl-C. */
export function addSettingsResolve(settings: Command): void {
  describeCommand(
    byOption(
      withIndicatorOptions(
        settings.command('resolve').description('ends a write that was interrupted; until then no other one is allowed'),
      ),
    )
      .addOption(
        new Option('--how <way>', 'put the old values back, write the new ones again, or leave the indicator as it is')
          .choices(['restore', 'complete', 'leave'])
          .makeOptionMandatory(),
      )
      .option(
        '--panel-agrees',
        'the values shown by "identify", or by this command without it, agree with the front panel; for units that cannot be told',
      ),
    ['settings resolve --job site.job.json --how restore --by "A. Smith"'],
    'settings-resolve',
  ).action(
    run((options: Options, around) => {
      const { by } = options
      if (by === undefined) return Promise.resolve(misused('Say who is at the machine: --by NAME.'))
      return withIndicator(options, around, async ({ host, indicator, profile, shown }) => {
        const refused = await startVisit(host, by)
        if (refused) return refused
        const indicatorId = indicator.id
        const open = host.topics.get('indicator', indicatorId)?.openWrite
        if (!open) return failed({ why: 'No write of this indicator was interrupted; there is nothing to end.' })
        if (options.how !== 'leave') {
          const identity = await host.call('indicator.identify', { indicatorId })
          // One that was on its way to another address or line format may answer there, and is looked for.
          const wasMoving = open.wanted.some(({ key }) => isBusRegister({ name: key }))
          if (!identity.ok && !wasMoving) return failedBy(identity.failure)
        }
        if (!around.json) around.note(`Write of ${open.startedAt} by ${open.by}:`)
        if (!around.json) for (const d of open.wanted) around.note(differenceLine(d))
        const work = host.call('journal.resolve', {
          indicatorId,
          journalId: open.journalId,
          how: options.how,
          agreesWithPanel: options.panelAgrees === true,
        })
        const end = await guardedWrite(host, indicatorId, around, work, {
          step: writingWords,
          first: 'A write is under way: it reaches its safe end first.',
        })
        if (!end.ok) {
          const failed = writeEnded(end.failure)
          // One that was moving may be met here only: "identify" asks at the address it had.
          const identity = host.topics.get('indicator', indicatorId)?.identity
          const toCompare = identity?.outcome === 'cannot-tell' ? describeIdentity(indicator.name, profile, identity) : []
          return { ...failed, lines: [...failed.lines, ...toCompare] }
        }
        return {
          exit: exitCode.done,
          lines: options.how === 'leave' ? ['Left as it is; the journal is closed.'] : receiptLines(end.value),
          json: { ok: true, indicator: shown, how: options.how, receipt: end.value },
        }
      })
    }),
  )
}
