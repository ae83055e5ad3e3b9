import type { Command } from 'commander'
import { intendedOn } from '../../app/job/intended.ts'
import { differences } from '../../app/profile/settings.ts'
import { failed, failedBy } from './command-end.ts'
import { counted } from './counted.ts'
import { exitCode } from './exit-codes.ts'
import { type IndicatorOptions, withIndicator, withIndicatorOptions } from './open-job.ts'
import { describeCommand, run } from './run-command.ts'
import { differenceLine } from './setting-lines.ts'

export function addSettingsRead(settings: Command): void {
  describeCommand(
    withIndicatorOptions(settings.command('read').description('all settings that the indicator holds')),
    ['settings read --job site.job.json', 'settings read --job site.job.json --indicator ind-1 --json'],
    'settings-read',
  ).action(
    run((options: IndicatorOptions, around) =>
      withIndicator(options, around, async ({ host, indicator, shown }) => {
        const image = await host.call('settings.read', { indicatorId: indicator.id })
        if (!image.ok) return failedBy(image.failure)
        return {
          exit: exitCode.done,
          lines: Object.entries(image.value.values).map(([key, v]) => `${key.padEnd(26)} ${v.value ?? `words ${v.words.join(' ')}`}`),
          json: { ok: true, indicator: shown, held: image.value },
        }
      }),
    ),
  )
}

export function addSettingsCompare(settings: Command): void {
  describeCommand(
    withIndicatorOptions(
      settings.command('compare').description('what the indicator holds against what the job intends; exit code 3 if anything differs'),
    ),
    ['settings compare --job site.job.json', 'settings compare --job site.job.json --point WT-101 --json'],
    'settings-compare',
  ).action(
    run((options: IndicatorOptions, around) =>
      withIndicator(options, around, async ({ host, indicator, profile, shown }) => {
        const image = await host.call('settings.read', { indicatorId: indicator.id })
        if (!image.ok) return failedBy(image.failure)
        const points = host.topics.get('job')?.points.filter((p) => p.indicatorId === indicator.id) ?? []
        const intended = intendedOn(points)
        const found = differences(profile, image.value, intended)
        if (!found.ok) return failed({ why: found.failure.why, where: found.failure.key })
        const compared = Object.keys(intended).length
        const differs = found.value
        return {
          exit: differs.length > 0 ? exitCode.differs : exitCode.done,
          lines:
            compared === 0
              ? ['The job intends nothing for this indicator yet.']
              : differs.length === 0
                ? [`${counted(compared, 'intended setting')}, none differs.`]
                : [`${differs.length} of ${compared} intended settings differ, held → intended:`, ...differs.map(differenceLine)],
          json: { ok: true, indicator: shown, compared, differs },
        }
      }),
    ),
  )
}
