import type { Command } from 'commander'
import type { IdentityView } from '../../app/contract/views.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { failedBy } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { type IndicatorOptions, withIndicator, withIndicatorOptions } from './open-job.ts'
import { describeCommand, run } from './run-command.ts'

export function addIdentify(program: Command): void {
  describeCommand(
    withIndicatorOptions(
      program.command('identify').description('is the unit what the profile says? Only reads. Exit code 3 unless it is confirmed'),
    ),
    ['identify --job site.job.json', 'identify --job site.job.json --point WT-101 --json'],
    'identify',
  ).action(
    run((options: IndicatorOptions, around) =>
      withIndicator(options, around, async ({ host, indicator, profile, shown }) => {
        const identity = await host.call('indicator.identify', { indicatorId: indicator.id })
        if (!identity.ok) return failedBy(identity.failure)
        return {
          exit: identity.value.outcome === 'confirmed' ? exitCode.done : exitCode.differs,
          lines: describeIdentity(`${indicator.name}, unit ${indicator.unit}`, profile, identity.value),
          json: { ok: true, indicator: shown, identity: identity.value },
        }
      }),
    ),
  )
}

export function describeIdentity(unit: string, profile: Profile, identity: IdentityView): string[] {
  const tests = identity.tests.map((t) => `  ${t.register.padEnd(24)} reads ${t.got}, expected ${t.expected}`)
  switch (identity.outcome) {
    case 'confirmed':
      return [`${unit}: it is ${profile.name}.`, ...tests]
    case 'contradicted':
      return [`${unit}: it is not ${profile.name}. It will not be written.`, ...tests]
    case 'cannot-tell':
    case 'not-asked':
      return [
        `${unit}: whether it is ${profile.name} cannot be told. Compare with its front panel:`,
        ...identity.compareWithPanel.map((c) => `  ${c.register.padEnd(24)} ${c.value}`),
      ]
  }
}
