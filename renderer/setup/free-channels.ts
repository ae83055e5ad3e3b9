import type { Job } from '../../app/job/schema.ts'
import { profileOf } from '../state/profiles.ts'

/** One channel of one indicator, as "indicator channel". */
export type ChannelChoice = { value: string; label: string }

/** Channels that no other point measures. */
export function channelsFor(job: Job, pointId?: string): ChannelChoice[] {
  return job.indicators.flatMap((indicator) => {
    const channels = profileOf(job, indicator.profileId)?.channels ?? 1
    const taken = job.points.filter((p) => p.id !== pointId && p.indicatorId === indicator.id).map((p) => p.channel)
    return Array.from({ length: channels }, (_, i) => i + 1)
      .filter((channel) => !taken.includes(channel))
      .map((channel) => ({
        value: `${indicator.id} ${channel}`,
        label: channels === 1 ? indicator.name : `${indicator.name}, channel ${channel}`,
      }))
  })
}
