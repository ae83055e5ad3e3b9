import { z } from 'zod'
import { jobVersion } from '../../app/contract/job-file-calls.ts'
import { logEntry } from '../../app/contract/log-calls.ts'
import { visitComparison, visitName } from '../../app/contract/visit-calls.ts'

const yes = z.literal(true)
const made = z.strictObject({ ok: yes, path: z.string() })

/** What the commands on jobs as files print with `--json`. */
export const jobOutputs = {
  'job-new': made,
  'job-duplicate': made,
  'job-bundle': z.strictObject({ ok: yes, path: z.string(), files: z.int(), bytes: z.int() }),
  'job-open-bundle': z.strictObject({ ok: yes, path: z.string(), name: z.string() }),
  'job-versions': z.strictObject({ ok: yes, versions: z.array(jobVersion) }),
  'visits-list': z.strictObject({
    ok: yes,
    visits: z.array(z.strictObject({ ...visitName.shape, indicators: z.int(), checks: z.int() })),
  }),
  'visits-compare': z.strictObject({ ok: yes, ...visitComparison.shape }),
  log: z.strictObject({ ok: yes, entries: z.array(logEntry), unreadable: z.int() }),
}
