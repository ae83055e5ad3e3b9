import type { VisitName } from '../contract/visit-calls.ts'
import type { Visit } from './schema.ts'

/** Which visit something stands on. */
export const visitNameOf = ({ id, startedAt, by }: Visit): VisitName => ({ visitId: id, startedAt, by })
