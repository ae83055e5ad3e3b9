import { benchLine } from './line.ts'
import { type Master, type MasterName, startMaster } from './masters/master-process.ts'
import type { Part, PartOptions } from './part.ts'
import { type PacedSlave, startPacedSlave } from './slave-process.ts'
import { median, percent, type Row } from './table.ts'

const aim = 0.98
const speeds = [19_200, 115_200]
const delayMs = 5
const living = [1, 2, 3, 4, 6, 7, 8]
const dying = 5
const everyone = [1, 2, 3, 4, dying, 6, 7, 8]
/** Until a unit that stopped answering is set aside. */
const settleMs = 4_000

/** `kept`: share of the line's time that the seven had; `against`: what they reached, by what they reach without the dead one. */
type Kept = { kept: number; against: number }

/** Answers a second, the slave's own lateness taken out. */
async function rate(master: Master, slave: PacedSlave, units: readonly number[], ms: number): Promise<{ rate: number; kept: number }> {
  await slave.report()
  const { answered, elapsedMs } = await master.run({ units, ms })
  const { lateMs, deadMs, deadSpanMs } = await slave.report()
  return { rate: answered / (elapsedMs - lateMs), kept: 1 - deadMs / deadSpanMs }
}

async function measure(name: MasterName, baud: number, python: string, { say, full }: PartOptions): Promise<Kept> {
  const slave = await startPacedSlave({ line: benchLine(baud), delayMs, dropEarly: false, units: 8 })
  const master = await startMaster(name, slave.path, baud, python)
  const rounds: Kept[] = []
  try {
    await master.run({ units: everyone, ms: 1_000 })
    await slave.kill([dying])
    say(`${baud} bit/s, ${name}: unit ${dying} has stopped answering`)
    await master.run({ units: everyone, ms: settleMs })
    for (let round = 1; round <= (full ? 3 : 1); round++) {
      say(`${baud} bit/s, ${name}: round ${round}, the seven alone`)
      const alone = await rate(master, slave, living, 5_000)
      say(`${baud} bit/s, ${name}: round ${round}, with the dead one`)
      const together = await rate(master, slave, everyone, full ? 30_000 : 16_000)
      rounds.push({ kept: together.kept, against: together.rate / alone.rate })
    }
  } finally {
    master.end()
    await slave.end()
  }
  return { kept: median(rounds.map((r) => r.kept)), against: median(rounds.map((r) => r.against)) }
}

const measured = ({ kept, against }: Kept) => `${percent(kept)} of the line's time is theirs; ${percent(against)} of their rate without it`

async function run(options: PartOptions): Promise<Row[]> {
  const rows: Row[] = []
  for (const baud of speeds) {
    const own = await measure('spanwright', baud, '', options)
    const naive = await measure('modbus-serial', baud, '', options)
    rows.push({ what: `${baud} bit/s: spanwright`, measured: measured(own), aim: percent(aim), met: own.kept >= aim })
    rows.push({ what: `${baud} bit/s: plain round robin`, measured: measured(naive) })
  }
  return rows
}

export const deadUnit: Part = {
  name: 'dead-unit',
  title: 'One dead unit of eight, in steady state: what the seven keep',
  notes: [
    `unit ${dying} answered, then stopped; every unit answers after ${delayMs} ms, a time-out is 200 ms; probes included`,
    "judged by the line's time, which a busy machine does not move; the rates come from two windows one after the other and do move",
  ],
  run,
}
