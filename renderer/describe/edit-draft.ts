import type { HostCalls } from '../../app/contract/contract.ts'
import { fail, type Result } from '../../app/result.ts'

/** Changes parts of a draft; says why where that is refused. */
export type EditDraft = (change: HostCalls['description.edit']['request']['change']) => Promise<Result<null, string>>

/** A whole number as typed, or what would be right. */
export const whole = (typed: string, keep: (n: number) => Promise<Result<null, string>>): Promise<Result<null, string>> =>
  /^\d+$/.test(typed) ? keep(Number(typed)) : Promise.resolve(fail('A whole number is needed.'))
