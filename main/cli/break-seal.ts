import type { Command } from 'commander'
import { ended, failed, failedBy, misused } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { findIndicator, type IndicatorOptions, withIndicatorOptions, withJob } from './open-job.ts'
import { describeCommand, run } from './run-command.ts'
import { byOption } from './visit.ts'

type Options = IndicatorOptions & { by?: string; reason: string; seals: string }

/** A sealed indicator is read-only until somebody answers for it by name. */
export function addBreakSeal(program: Command): void {
  describeCommand(
    byOption(
      withIndicatorOptions(
        program
          .command('break-seal')
          .description('lets a sealed indicator be written: name, reason and seal numbers are kept; re-verification is due afterwards'),
      ),
    )
      .requiredOption('--reason <text>', 'why the seal is broken')
      .requiredOption('--seals <numbers>', 'the seal numbers as they stand on the indicator; they must be those in the job'),
    ['break-seal --job site.job.json --indicator ind-1 --by "A. Smith" --reason "cell 2 replaced" --seals "S-1, S-2"'],
    'break-seal',
  ).action(
    run((options: Options, around) =>
      withJob(options, around, async (host) => {
        const { by, reason, seals } = options
        if (by === undefined) return misused('Say who breaks the seal: --by NAME.')
        const found = findIndicator(host, options)
        if (!found.ok) return misused(found.failure)
        const { id, name, sealed, unit, profileId } = found.value
        if (!sealed) return misused(`${name} is not sealed in this job; nothing is to be broken.`)
        const revision = host.topics.get('job')?.revision ?? 0
        const change = { sealed: { seals, broken: { by, reason } } }
        const kept = await host.call('indicator.edit', { revision, indicatorId: id, change })
        if (!kept.ok) {
          const { failure } = kept
          if (failure.kind === 'stale') return failed({ why: 'The job was changed meanwhile. Run this again.' })
          return failure.where?.startsWith('sealed') ? ended(exitCode.notAllowed, { why: failure.why, detail: failure }) : failedBy(failure)
        }
        return {
          exit: exitCode.done,
          lines: [`${name} may be written now: seal ${sealed.seals} broken by ${by}, "${reason}". Re-verification is due afterwards.`],
          json: { ok: true, indicator: { id, name, unit, profile: profileId }, seals: sealed.seals, by, reason },
        }
      }),
    ),
  )
}
