import { rtuFrame } from '../../simulator/modbus/crc.ts'
import { rtuReceiver } from '../../simulator/modbus/rtu-receiver.ts'
import { openPty } from '../../simulator/wire/open-pty.ts'
import type { SlaveCommand, SlaveOptions, SlaveReport } from './slave-process.ts'
import { median } from './table.ts'

/**
 * A process of its own: units on a pseudo-terminal that answer reads at the nominal speed of the line. A request that came at
 * once counts as on the wire for the time of its characters. Answers leave in pieces of a millisecond, or of one character
 * where that is longer, as through a USB adapter; the last byte never before its time, and how much later is reported.
 */
const { line, delayMs, dropEarly, units } = JSON.parse(process.argv[2] ?? '') as SlaveOptions
const { characterMs, silenceMs } = line
/** Pieces closer together than this are written as one, in ms. */
const pieceMs = 1

let dead: readonly number[] = []
let lineFreeAt = Number.NEGATIVE_INFINITY
let report: SlaveReport = empty()
let gaps: number[] = []
let cycles: number[] = []
let askedDead = false
let firstDeadAt = Number.NaN
/** Since `firstDeadAt`; told in whole rounds only, from one such request to the next. */
let deadMs = 0
/** How late the last answer was. */
let justLateMs = 0

function empty(): SlaveReport {
  return {
    requests: 0,
    answered: 0,
    early: 0,
    lateMs: 0,
    deadSpanMs: 0,
    deadMs: 0,
    fromMs: Number.NaN,
    toMs: Number.NaN,
    gapMs: Number.NaN,
    cycleMs: Number.NaN,
  }
}

const { wire, path } = openPty()

const spinUntil = (at: number) => {
  while (performance.now() < at) {
    // Held: a timer would be a millisecond late, and that would be charged to the master.
  }
}

function answer(frame: Uint8Array, startAt: number): void {
  const endAt = startAt + frame.length * characterMs
  let sent = 0
  const pump = () => {
    const left = endAt - performance.now()
    if (left <= pieceMs + 0.2) {
      spinUntil(endAt)
      lineFreeAt = performance.now()
      wire.write(frame.subarray(sent))
      justLateMs = lineFreeAt - endAt
      report.lateMs += justLateMs
      return
    }
    const due = Math.min(frame.length - 1, Math.floor((performance.now() - startAt) / characterMs))
    if (due > sent) {
      wire.write(frame.subarray(sent, due))
      sent = due
    }
    setTimeout(pump, Math.max(1, Math.floor(Math.min(left - 0.5, sent === 0 ? startAt + characterMs - performance.now() : characterMs))))
  }
  pump()
}

let cameAt = 0

function noteDead(): void {
  if (Number.isNaN(firstDeadAt)) {
    firstDeadAt = cameAt
    deadMs = 0
  }
  report.deadSpanMs = cameAt - firstDeadAt
  report.deadMs = deadMs
}

const receiver = rtuReceiver({
  silenceMs: 5,
  onFrame({ unit, pdu }) {
    const gap = cameAt - lineFreeAt
    const early = gap < silenceMs
    report.requests += 1
    if (Number.isNaN(report.fromMs)) report.fromMs = cameAt
    else {
      gaps.push(gap)
      cycles.push(cameAt - report.toMs - justLateMs)
      if (askedDead) deadMs += cameAt - report.toMs
    }
    askedDead = dead.includes(unit)
    if (askedDead) noteDead()
    justLateMs = 0
    report.toMs = cameAt
    if (early) report.early += 1
    lineFreeAt = cameAt + (pdu.length + 3) * characterMs
    if ((early && dropEarly) || askedDead || unit < 1 || unit > units) return
    report.answered += 1
    const count = pdu[4] ?? 0
    answer(rtuFrame(unit, Uint8Array.of(pdu[0] ?? 0, 2 * count, ...new Uint8Array(2 * count))), lineFreeAt + delayMs)
  },
})
wire.onBytes((bytes) => {
  cameAt = performance.now()
  receiver.take(bytes)
})

process.on('message', (command: SlaveCommand) => {
  if (command.kind === 'dead') dead = command.units
  if (command.kind === 'report') {
    process.send?.({ ...report, gapMs: median(gaps), cycleMs: median(cycles) })
    report = empty()
    gaps = []
    cycles = []
    firstDeadAt = Number.NaN
  } else process.send?.('done')
})
process.on('disconnect', () => process.exit(0))
process.send?.({ path })
