import { type Child, startChild } from './child.ts'
import type { BenchLine } from './line.ts'

export type SlaveOptions = {
  line: BenchLine
  /** Between the end of a request and the start of its answer. */
  delayMs: number
  /** A request that came before the line was silent long enough is not answered. */
  dropEarly: boolean
  /** Units 1 to this answer. */
  units: number
}

export type SlaveCommand = { kind: 'dead'; units: readonly number[] } | { kind: 'report' }

/** Since the last report. Times in ms. */
export type SlaveReport = {
  requests: number
  answered: number
  /** Requests that came before the line was silent long enough. A slave that reads late sees fewer, never more. */
  early: number
  /** How much later than at the nominal speed answers ended, summed: the slave's own fault, not the master's. */
  lateMs: number
  /** From the first to the last request to a dead unit, and what of it passed between such a request and the next one of any kind. */
  deadSpanMs: number
  deadMs: number
  /** When the first and the last request came. */
  fromMs: number
  toMs: number
  /** Median silence before a request. */
  gapMs: number
  /** Median time from one request to the next, less what the slave was late by. */
  cycleMs: number
}

export type PacedSlave = { path: string; kill(units: readonly number[]): Promise<void>; report(): Promise<SlaveReport>; end: Child['end'] }

export async function startPacedSlave(options: SlaveOptions): Promise<PacedSlave> {
  const { child, first } = await startChild<{ path: string }>('paced-slave.ts', options)
  return {
    path: first.path,
    async kill(units) {
      await child.ask({ kind: 'dead', units } satisfies SlaveCommand)
    },
    report: () => child.ask<SlaveReport>({ kind: 'report' } satisfies SlaveCommand),
    end: child.end,
  }
}
