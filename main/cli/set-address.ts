import type { Command } from 'commander'
import { misused } from './command-end.ts'
import { wholeNumber } from './numbers.ts'
import { giveOneByOne, type OneByOneOptions } from './one-by-one.ts'
import { describeCommand, run } from './run-command.ts'
import { named, withWriteOptions } from './settings-write.ts'
import { previewAndWrite, type WriteOptions } from './write-preview.ts'

type Options = WriteOptions & OneByOneOptions & { to?: number; at?: number; oneByOne?: true | string[] }

const address = wholeNumber(1, 247)

export function addSetAddress(program: Command): void {
  describeCommand(
    withWriteOptions(
      program
        .command('set-address')
        .description(
          'gives an indicator another address and follows it there; or gives new units theirs, one by one as they are connected',
        ),
    )
      .option('--to <address>', 'the new address, 1 to 247, of the indicator named', address)
      .option(
        '--one-by-one [indicators...]',
        'new units become these indicators in this order, each as it is connected; all where none is named',
      )
      .option('--at <address>', 'with --one-by-one: where new units answer; the factory address of the profile unless given', address),
    [
      'set-address --job site.job.json --indicator ind-1 --to 7 --dry-run',
      'set-address --job site.job.json --point WT-101 --to 7 --by "A. Smith" --yes',
      'set-address --job site.job.json --one-by-one --by "A. Smith" --yes',
      'set-address --job site.job.json --one-by-one ind-5 ind-6 --at 247 --by "A. Smith" --yes --json',
    ],
    'set-address',
    'set-address-one-by-one',
  ).action(
    run((options: Options, around) => {
      const { to, oneByOne } = options
      if ((to === undefined) === (oneByOne === undefined))
        return Promise.resolve(misused('Give either --to ADDRESS for one indicator, or --one-by-one for new units.'))
      if (oneByOne !== undefined) {
        if (options.indicator !== undefined || options.point !== undefined)
          return Promise.resolve(misused('Name the indicators after --one-by-one, without --indicator and --point.'))
        return giveOneByOne(options, oneByOne === true ? null : oneByOne, around)
      }
      if (to === undefined || options.at !== undefined) return Promise.resolve(misused('--at goes with --one-by-one.'))
      return named(options, around, (reached) =>
        previewAndWrite(reached, options, around, () =>
          reached.host.call('address.preview', { indicatorId: reached.indicator.id, address: to }),
        ),
      )
    }),
  )
}
