import { type BusFailure, explainBusFailure } from '../../app/contract/bus-failure.ts'
import { type ExitCode, exitCode } from './exit-codes.ts'

/** How a command ended: what people are told, and the same for programs. */
export type CommandEnd = { exit: ExitCode; lines: readonly string[]; json: unknown }

export type Problem = { why: string; where?: string; detail?: unknown }

/** An end that did not come to what was asked; `detail` is the failure as the host gave it. */
export function ended(exit: ExitCode, { why, where, detail }: Problem, lines: readonly string[] = []): CommandEnd {
  const named = where === undefined ? {} : { where }
  return {
    exit,
    lines: [where === undefined ? why : `${where}: ${why}`, ...lines],
    json: { ok: false, exit, why, ...named, ...(detail === undefined ? {} : { detail }) },
  }
}

export const failed = (problem: Problem): CommandEnd => ended(exitCode.failed, problem)
export const misused = (why: string): CommandEnd => ended(exitCode.usage, { why })

export type HostFailure = BusFailure | { kind: 'refused-request'; why: string; where?: string | undefined }

/** A host refusal or a fault of the bus, as an end. */
export function failedBy(failure: HostFailure): CommandEnd {
  if (failure.kind !== 'refused-request') return failed({ why: explainBusFailure(failure), detail: failure })
  return failed({ why: failure.why, ...(failure.where === undefined ? {} : { where: failure.where }), detail: failure })
}
