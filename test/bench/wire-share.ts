import { type BenchLine, benchLine, limitMs } from './line.ts'
import { type MasterName, startMaster } from './masters/master-process.ts'
import type { Part, PartOptions } from './part.ts'
import { startPacedSlave } from './slave-process.ts'
import { cores, median, percent, type Row } from './table.ts'

/** Aims for the host's own bus: share of the limit by speed, and at most this much of a core. */
const aims: Record<number, number> = { 9600: 0.97, 19200: 0.97, 115200: 0.93 }
const mostCore = 1 / 3
const delays = [0, 5]
/** The first requests of a process are slow: code is loaded and compiled. */
const warmUpMs = 400

type Case = { line: BenchLine; delayMs: number; name: MasterName; dropEarly: boolean }
/** `typical` is the share at the median transaction, which a busy machine moves less than the mean. */
type Run = {
  share: number
  typical: number
  core: number
  cpuMs: number
  elapsedMs: number
  early: number
  requests: number
  gapMs: number
}

async function measure({ line, delayMs, name, dropEarly }: Case, ms: number, python: string): Promise<Run> {
  const slave = await startPacedSlave({ line, delayMs, dropEarly, units: 1 })
  const master = await startMaster(name, slave.path, line.baud, python)
  try {
    await master.run({ units: [1], ms: warmUpMs })
    await slave.report()
    const { cpuMs, elapsedMs } = await master.run({ units: [1], ms })
    const { requests, answered, early, fromMs, toMs, lateMs, gapMs, cycleMs } = await slave.report()
    const limit = limitMs(line, delayMs)
    return {
      share: ((answered - 1) * limit) / (toMs - fromMs - lateMs),
      typical: limit / cycleMs,
      core: cpuMs / elapsedMs,
      cpuMs,
      elapsedMs,
      early,
      requests,
      gapMs,
    }
  } finally {
    master.end()
    await slave.end()
  }
}

const middle = (runs: readonly Run[], of: (run: Run) => number): number => median(runs.map(of))
const sum = (runs: readonly Run[], of: (run: Run) => number): number => runs.reduce((total, run) => total + of(run), 0)

const describe = (runs: readonly Run[], reference: readonly Run[] | undefined): string => {
  const early = sum(runs, (r) => r.early)
  return [
    `${percent(middle(runs, (r) => r.share))}`,
    `typically ${percent(middle(runs, (r) => r.typical))}`,
    ...(reference ? [`${percent(middle(runs, (r) => r.typical) / middle(reference, (r) => r.typical))} of the reference`] : []),
    `silence ${middle(runs, (r) => r.gapMs).toFixed(2)} ms`,
    early > 0 ? `${early} of ${sum(runs, (r) => r.requests)} early` : 'none early',
    cores(
      sum(runs, (r) => r.cpuMs),
      sum(runs, (r) => r.elapsedMs),
    ),
  ].join(', ')
}

async function run({ say, full, python }: PartOptions): Promise<Row[]> {
  const rounds = full ? 5 : 3
  const ms = full ? 5_000 : 1_500
  const names: MasterName[] = ['reference', 'spanwright', 'modbus-serial', ...(python === undefined ? [] : (['pymodbus'] as const))]
  const rows: Row[] = []
  for (const [baud, aim] of Object.entries(aims)) {
    const line = benchLine(Number(baud))
    for (const delayMs of delays) {
      const results = new Map<string, Run[]>()
      for (let round = 0; round < rounds; round++) {
        // In turn, so that a busy moment of the machine falls on all of them.
        for (const name of names) {
          for (const dropEarly of name === 'reference' ? [false] : [false, true]) {
            const key = `${name}${dropEarly ? ', early ones dropped' : ''}`
            say(`${baud} bit/s, delay ${delayMs} ms, round ${round + 1} of ${rounds}, ${key}`)
            const one = await measure({ line, delayMs, name, dropEarly }, ms, python ?? '')
            results.set(key, [...(results.get(key) ?? []), one])
          }
        }
      }
      for (const [key, runs] of results) {
        const what = `${baud} bit/s, delay ${delayMs} ms: ${key}`
        const measured = describe(runs, key === 'reference' ? undefined : results.get('reference'))
        if (!key.startsWith('spanwright')) {
          rows.push({ what, measured })
          continue
        }
        const met = middle(runs, (r) => r.share) >= aim && middle(runs, (r) => r.core) <= mostCore && sum(runs, (r) => r.early) === 0
        rows.push({ what, measured, aim: `${percent(aim)}, ${mostCore.toFixed(2)} core, none early`, met })
      }
    }
  }
  return rows
}

export const wireShare: Part = {
  name: 'wire-share',
  title: "Share of the wire's limit: one unit, one block of seven input registers, over and over",
  notes: [
    "limit: characters of request and answer (8N1), the unit's delay, the silence that the line needs; the slave's own lateness is taken out",
    'first figure: over the whole run, median of the rounds; typically: at the median transaction; early: before the line was silent long enough',
    'reference: blocking reads and writes and nothing else, what pseudo-terminal and machine allow at the moment',
  ],
  run,
}
