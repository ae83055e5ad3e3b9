import type { Job } from './schema.ts'

/** A job with nothing in it yet. */
export const blankJob = (id: string, fields: Pick<Job, 'name' | 'site' | 'decimalSign' | 'simulated'>): Job => ({
  schema: 1,
  id,
  ...fields,
  revision: 0,
  buses: [],
  indicators: [],
  points: [],
  visits: [],
  profiles: [],
})
