import type { Register } from '../../app/profile/schema.ts'

/** How a fact of a profile is known. */
export const evidenceWords: Record<Register['evidence'], string> = {
  manual: 'from the manual',
  hardware: 'seen on the unit',
  inferred: 'assumed',
  invented: 'invented for practice',
}
