import type { Register } from './schema.ts'

/** What the value of a meaning is measured in: the reading's unit, the signal's, volts, a time, a frequency, or nothing. */
export type MeaningUnit = 'reading' | 'signal' | 'V' | 's' | 'Hz' | 'none'

/** A meaning that the program knows what to do with, and how a register that has it usually behaves. */
export type Meaning = {
  name: string
  words: string
  /** Under this heading in lists. */
  group: 'Reading and signal' | 'Scaling values' | 'Settings' | 'Identity' | 'Control'
  unit: MeaningUnit
  perChannel: boolean
} & Pick<Register, 'role' | 'access' | 'kept'>

const live = { group: 'Reading and signal', role: 'live', access: 'read', kept: 'never', perChannel: true } as const
const scale = { group: 'Scaling values', role: 'setting', access: 'read-write', kept: 'at-once', perChannel: true } as const
const setting = { ...scale, group: 'Settings' } as const
const identity = { group: 'Identity', role: 'identity', access: 'read', kept: 'at-once', perChannel: false, unit: 'none' } as const
const control = { group: 'Control', role: 'control', access: 'write', kept: 'never', perChannel: false, unit: 'none' } as const

/** Registers of a table of pairs are `scale.table.N.signal` and `.reading`, set-points `setpoint.N.value`; they are named by number. */
export const meanings: readonly Meaning[] = [
  { name: 'live.reading', words: 'Reading, as displayed', unit: 'reading', ...live },
  { name: 'live.gross', words: 'Gross', unit: 'reading', ...live },
  { name: 'live.net', words: 'Net', unit: 'reading', ...live },
  { name: 'live.signal', words: 'Signal, measured', unit: 'signal', ...live },
  { name: 'live.counts', words: 'Counts of the converter', unit: 'none', ...live },
  { name: 'live.status', words: 'Status bits', unit: 'none', ...live },
  { name: 'scale.lower.signal', words: 'Lower pair, signal', unit: 'signal', ...scale },
  { name: 'scale.lower.reading', words: 'Lower pair, reading', unit: 'reading', ...scale },
  { name: 'scale.upper.signal', words: 'Upper pair, signal', unit: 'signal', ...scale },
  { name: 'scale.upper.reading', words: 'Upper pair, reading', unit: 'reading', ...scale },
  { name: 'scale.lower.counts', words: 'Lower pair, counts', unit: 'none', ...scale },
  { name: 'scale.upper.counts', words: 'Upper pair, counts', unit: 'none', ...scale },
  { name: 'scale.slope', words: 'Slope', unit: 'none', ...scale },
  { name: 'scale.intercept', words: 'Intercept', unit: 'none', ...scale },
  { name: 'scale.capacity', words: 'Capacity', unit: 'reading', ...scale },
  { name: 'scale.rated-output', words: 'Rated output', unit: 'signal', ...scale },
  { name: 'scale.zero-balance', words: 'Zero balance', unit: 'signal', ...scale },
  { name: 'input.range', words: 'Input range', unit: 'signal', ...setting },
  { name: 'excitation.voltage', words: 'Excitation', unit: 'V', ...setting },
  { name: 'filter.time', words: 'Filter time', unit: 's', ...setting },
  { name: 'filter.cutoff', words: 'Filter cut-off', unit: 'Hz', ...setting },
  { name: 'reading.decimals', words: 'Decimals of the reading', unit: 'none', ...setting },
  { name: 'reading.unit', words: 'Unit of the reading', unit: 'none', ...setting },
  { name: 'reading.interval', words: 'Scale interval', unit: 'reading', ...setting },
  { name: 'bus.address', words: 'Address on the bus', unit: 'none', ...setting },
  { name: 'bus.baud', words: 'Bit rate of the bus', unit: 'none', ...setting },
  { name: 'bus.parity', words: 'Parity of the bus', unit: 'none', ...setting },
  { name: 'identity.model', words: 'Model number', ...identity },
  { name: 'identity.serial', words: 'Serial number', ...identity },
  { name: 'identity.firmware', words: 'Firmware', ...identity },
  { name: 'control.command', words: 'Command', ...control },
  { name: 'control.lock', words: 'Lock or unlock', ...control },
  { name: 'control.save', words: 'Save', ...control },
  { name: 'control.restart', words: 'Restart', ...control },
  { name: 'control.busy', words: 'Busy', ...control, access: 'read' },
]

const byName = new Map(meanings.map((m) => [m.name, m]))

export const meaningOf = (name: string): Meaning | undefined => byName.get(name)
