import { z } from 'zod'
import { serialFormat } from '../profile/schema.ts'

/** Where an indicator is reached on its bus. The format is null where the line behind a gateway has one of its own. */
export const place = z.strictObject({ unit: z.int().min(0).max(255), format: serialFormat.nullable() })
export type Place = z.infer<typeof place>

/** An indicator that did not end where it was sent: the two places, where it answers now, and what to do. */
export const whereabouts = z.strictObject({
  old: place,
  new: place,
  answers: z.enum(['at-old', 'at-new', 'between', 'at-neither', 'unclear']),
  advice: z.string(),
})
export type Whereabouts = z.infer<typeof whereabouts>
