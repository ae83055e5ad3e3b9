import type { LiveSample } from '../../app/contract/views.ts'

const unfit = ['over-range', 'under-range', 'fault', 'hold']

/** What an indicator reports that makes a live value unfit to be kept as a measured one, in words; null where nothing does. */
export const unfitStatus = ({ status }: LiveSample): string | null => status.filter((s) => unfit.includes(s)).join(', ') || null
