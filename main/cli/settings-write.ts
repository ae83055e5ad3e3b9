import { type Command, Option } from 'commander'
import { type CommandEnd, misused } from './command-end.ts'
import { type Reached, withIndicator, withIndicatorOptions } from './open-job.ts'
import { type Around, describeCommand, run } from './run-command.ts'
import { byOption, startVisit } from './visit.ts'
import { previewAndWrite, type WriteOptions } from './write-preview.ts'

export const withWriteOptions = (command: Command): Command =>
  byOption(withIndicatorOptions(command))
    .option('--yes', 'write; without it only what would be written is shown, and the exit code is 4')
    .option('--dry-run', 'only show what would be written; exit code 0')
    .option('--panel-agrees', 'the values shown by "identify" were compared with the front panel and agree; for units that cannot be told')

/** A name is needed before anything else, since as-found settings are kept with it; not for a look that changes nothing. */
export function named(options: WriteOptions, around: Around, work: (reached: Reached) => Promise<CommandEnd>): Promise<CommandEnd> {
  if (options.by === undefined && !options.dryRun)
    return Promise.resolve(misused('Say who is at the machine: --by NAME. A write is logged with a name.'))
  return withIndicator(options, around, async (reached) => {
    if (options.by !== undefined) {
      const refused = await startVisit(reached.host, options.by)
      if (refused) return refused
    }
    return work(reached)
  })
}

export function addSettingsWrite(settings: Command): void {
  describeCommand(
    withWriteOptions(
      settings
        .command('write')
        .description('writes what the job intends, reads it back and saves it; puts the old values back if that fails'),
    ),
    ['settings write --job site.job.json --dry-run', 'settings write --job site.job.json --point WT-101 --by "A. Smith" --yes'],
    'settings-write',
  ).action(
    run((options: WriteOptions, around) =>
      named(options, around, (reached) =>
        previewAndWrite(reached, options, around, () => reached.host.call('settings.preview', { indicatorId: reached.indicator.id })),
      ),
    ),
  )
}

type RestoreOptions = WriteOptions & { to: 'before-last-write' | 'as-found' }

export function addSettingsRestore(settings: Command): void {
  describeCommand(
    withWriteOptions(
      settings
        .command('restore')
        .description('puts back what was held before the last write, or as found in this visit')
        .addOption(new Option('--to <which>', 'which values').choices(['before-last-write', 'as-found']).default('before-last-write')),
    ),
    ['settings restore --job site.job.json --dry-run', 'settings restore --job site.job.json --to as-found --by "A. Smith" --yes'],
    'settings-restore',
  ).action(
    run((options: RestoreOptions, around) =>
      named(options, around, (reached) =>
        previewAndWrite(reached, options, around, () =>
          reached.host.call('settings.preview-restore', { indicatorId: reached.indicator.id, to: options.to }),
        ),
      ),
    ),
  )
}
