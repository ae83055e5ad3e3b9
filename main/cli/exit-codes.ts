/** What scripts are told. `README.md` lists the same numbers. */
export const exitCode = {
  done: 0,
  /** It could not be done: no answer, a broken file, a write that did not hold. */
  failed: 1,
  /** The command line itself is wrong, or does not say which indicator is meant. */
  usage: 2,
  /** Done, and what was found is not what is meant: settings differ, or a check is not within its tolerance. */
  differs: 3,
  /** Refused on purpose: sealed, not identified, not confirmed. Nothing was sent to be changed. */
  notAllowed: 4,
  /** Ctrl-C. What was written or put back until then is said. */
  interrupted: 130,
} as const

export type ExitCode = (typeof exitCode)[keyof typeof exitCode]
