/** Outcome of something that may fail for reasons outside the program. Programming mistakes throw instead. */
export type Result<T, F> = { ok: true; value: T } | { ok: false; failure: F }

export const ok = <T>(value: T): { ok: true; value: T } => ({ ok: true, value })
export const fail = <F>(failure: F): { ok: false; failure: F } => ({ ok: false, failure })
