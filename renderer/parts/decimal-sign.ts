import { useTopic } from '../state/host-context.tsx'

/** The decimal sign of the job. */
export const useDecimalSign = (): '.' | ',' => useTopic('job')?.decimalSign ?? '.'
