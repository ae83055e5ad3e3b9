import { z } from 'zod'
import { decimalText } from '../quantity/decimal-text.ts'
import { quantityText, unitId } from '../quantity/quantity-text.ts'
import { addressCount, contradictions, overlaps } from './register-rules.ts'

/** Where a fact about an indicator comes from. "invented" marks the bundled practice models. */
export const evidence = z.enum(['manual', 'hardware', 'inferred', 'invented'])

const fact = {
  evidence,
  page: z.string().optional(),
  why: z.string().optional(),
}

const word = z.int().min(0).max(0xffff)
const milliseconds = z.int().min(0).max(600_000)

/** Name of a meaning, e.g. `scale.upper.signal`; the same in every profile that has it. */
export const registerName = z
  .string()
  .regex(/^[a-z][a-z0-9-]*(\.[a-z0-9][a-z0-9-]*)*$/, 'lower-case words joined by dots, e.g. scale.upper.signal')

/** Byte order on the wire, A the most significant byte. One word: AB or BA. Two words: the four usual orders. */
export const byteOrder = z.enum(['AB', 'BA', 'ABCD', 'CDAB', 'BADC', 'DCBA'])

export const registerType = z.enum(['u16', 'i16', 'u32', 'i32', 'f32'])

const option = z.strictObject({
  raw: z.int(),
  /** What the code stands for: a quantity ("3 mV/V"), a unit ("kg") or a word. */
  means: z.string().min(1),
})

const bit = z.strictObject({
  bit: z.int().min(0).max(31),
  name: z.enum(['over-range', 'under-range', 'fault', 'motion', 'hold', 'net', 'at-zero', 'locked', 'unsaved', 'busy', 'shunt-on']),
})

/** What a register is described by, before its parts are held against each other. */
export const registerFields = z.strictObject({
  name: registerName,
  /** 1-based channel of the indicator; absent where the value belongs to the whole indicator. */
  channel: z.int().min(1).max(32).optional(),
  table: z.enum(['holding', 'input', 'coil', 'discrete']),
  /** Zero-based address in the request; what the manual prints goes into `printedAs`. */
  address: word,
  printedAs: z.string().optional(),
  type: registerType,
  order: byteOrder,
  /** Bits of the raw value that hold this meaning, lowest first; absent = all of them. */
  field: z.strictObject({ from: z.int().min(0).max(31), width: z.int().min(1).max(32) }).optional(),
  /** The value is the raw number divided by ten to this power; or the register that says so. Absent for f32. */
  decimals: z.union([z.int().min(0).max(9), z.strictObject({ register: registerName })]).optional(),
  /** Unit of the value; or the register whose option names it. Absent for pure numbers. */
  unit: z.union([unitId, z.strictObject({ register: registerName })]).optional(),
  options: z.array(option).min(1).optional(),
  bits: z.array(bit).min(1).optional(),
  /** Smallest and largest value that the indicator accepts, in `unit`. */
  limits: z.strictObject({ from: decimalText, to: decimalText }).optional(),
  access: z.enum(['read', 'read-write', 'write']),
  /** `setting` is configuration to be kept and compared, `live` a measured value, `identity` fixed in the unit, `control` lock, command or the like. */
  role: z.enum(['setting', 'live', 'identity', 'control']),
  /** When a written value survives a power cycle. */
  kept: z.enum(['at-once', 'after-save', 'never']),
  takesEffect: z.enum(['now', 'after-save', 'after-restart']).default('now'),
  /** How a read-back is compared: equal words, or within so much of the wanted value (in `unit`). */
  readBack: z.union([z.literal('exact'), z.strictObject({ within: decimalText })]).default('exact'),
  ...fact,
})

export const register = registerFields.superRefine((r, ctx) => {
  const say = (path: string, message: string) => ctx.addIssue({ code: 'custom', path: [path], message })
  const wide = r.type === 'u32' || r.type === 'i32' || r.type === 'f32'
  if (wide && r.order.length !== 4) say('order', `${r.type} takes two registers: say ABCD, CDAB, BADC or DCBA`)
  if (!wide && r.order.length !== 2) say('order', `${r.type} takes one register: say AB or BA`)
  if (r.type === 'f32' && r.decimals !== undefined) say('decimals', 'a float carries its own decimals: leave this out')
  if (r.type === 'f32' && r.field) say('field', 'bit fields need an integer type')
  if (r.options && r.type === 'f32') say('options', 'options need an integer type')
  if (r.bits && r.type === 'f32') say('bits', 'status bits need an integer type')
  if ((r.table === 'input' || r.table === 'discrete') && r.access !== 'read') say('access', `the ${r.table} table can only be read`)
  for (const { path, message } of contradictions(r)) ctx.addIssue({ code: 'custom', path, message })
})

/** One value that is typed at the front panel; the array's order is the order of typing. */
const panelEntry = z.strictObject({
  name: registerName,
  channel: z.int().min(1).max(32).optional(),
  /** What the panel shows for it, e.g. a menu number. */
  label: z.string().min(1),
  /** Digits that it takes after the point; or the entry that decides them. Absent for options. */
  decimals: z.union([z.int().min(0).max(9), z.strictObject({ entry: registerName })]).optional(),
  unit: z.union([unitId, z.strictObject({ entry: registerName })]).optional(),
  options: z.array(z.string().min(1)).min(1).optional(),
  limits: z.strictObject({ from: decimalText, to: decimalText }).optional(),
  ...fact,
})

/** One thing to do on the bus, in the order given. */
export const step = z.union([
  z.strictObject({ write: registerName, words: z.array(word).min(1).max(8) }),
  z.strictObject({ waitMs: milliseconds }),
  z.strictObject({ until: registerName, equals: z.int(), withinMs: milliseconds }),
  z.strictObject({ answersAgainWithinMs: milliseconds }),
])

const procedure = z.strictObject({ steps: z.array(step).min(1), ...fact })

export const commandName = z.enum(['zero', 'tare', 'clear-tare', 'shunt-on', 'shunt-off', 'capture-lower', 'capture-upper'])

const pairsLimits = {
  /** May a pair lie above maximum load without moving capacity or overload limit? */
  pairAboveMaximum: z.boolean().default(false),
}

export const scalingModel = z.discriminatedUnion('model', [
  z.strictObject({ model: z.literal('two-pairs'), ...pairsLimits, ...fact }),
  z.strictObject({ model: z.literal('pair-table'), pairs: z.int().min(3).max(32), ...pairsLimits, ...fact }),
  z.strictObject({ model: z.literal('slope-intercept'), ...fact }),
  z.strictObject({ model: z.literal('capacity-rated-output'), ...fact }),
  z.strictObject({ model: z.literal('counts'), countsAtFullRange: z.int().min(1), ...pairsLimits, ...fact }),
  z.strictObject({ model: z.literal('applied-load-capture'), ...fact }),
  /** What its menu asks for stands in `panel`. */
  z.strictObject({ model: z.literal('front-panel-entry'), ...fact }),
])

const identityTest = z.strictObject({
  register: registerName,
  equals: z.int().optional(),
  oneOf: z.array(z.int()).min(1).optional(),
  /** What a different value proves: another model, or nothing certain. */
  otherwise: z.enum(['contradicted', 'cannot-tell']),
  ...fact,
})

export const serialFormat = z.strictObject({
  baud: z.int().min(300).max(921_600),
  parity: z.enum(['none', 'even', 'odd']),
  stopBits: z.union([z.literal(1), z.literal(2)]),
})

/** What a profile consists of, before its parts are held against each other. */
export const profileFields = z.strictObject({
  schema: z.literal(1),
  id: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'lower-case words joined by hyphens'),
  name: z.string().min(1).max(80),
  about: z.string().max(600),
  source: z.strictObject({ document: z.string().min(1), revision: z.string() }),
  identity: z.strictObject({
    tests: z.array(identityTest),
    /** Three registers whose values can be compared with the front panel when the tests cannot tell. */
    compareWithPanel: z.array(registerName).max(3),
  }),
  serial: serialFormat.extend({ unit: z.int().min(1).max(247), ...fact }).optional(),
  requests: z.strictObject({
    longestRead: z.int().min(1).max(125),
    longestWrite: z.int().min(1).max(123),
    /** Unused registers that may be read along so that two blocks become one. */
    readOver: z.int().min(0).max(124),
    pauseMs: milliseconds,
    answerMs: milliseconds,
    writeWith: z.enum(['fc06', 'fc16', 'either']),
    oneParameterAWrite: z.boolean(),
    /** Bit fields of one holding register are changed by function 22, which leaves the other bits to the indicator. */
    maskWrite: z.boolean().optional(),
    ...fact,
  }),
  channels: z.int().min(0).max(32),
  input: z
    .strictObject({
      ratiometric: z.boolean(),
      signalUnit: z.enum(['mV', 'mV/V']),
      smallestSignalPerInterval: quantityText.optional(),
      excitationTolerancePercent: decimalText.optional(),
      excitationCurrent: quantityText.optional(),
      gainErrorPercent: decimalText.optional(),
      zeroErrorPercent: decimalText.optional(),
      linearityErrorPercent: decimalText.optional(),
      gainDriftPpmPerK: decimalText.optional(),
      zeroDriftPpmPerK: decimalText.optional(),
      converterRateHz: decimalText.optional(),
      ...fact,
    })
    .optional(),
  terminals: z.array(
    z.strictObject({
      label: z.string().min(1),
      channel: z.int().min(1).optional(),
      role: z.enum([
        'excitation+',
        'excitation-',
        'sense+',
        'sense-',
        'signal+',
        'signal-',
        'shield',
        'bus-a',
        'bus-b',
        'bus-common',
        'supply+',
        'supply-',
      ]),
      ...fact,
    }),
  ),
  registers: z.array(register),
  /** What is typed at the front panel where it cannot be written over the bus. */
  panel: z.array(panelEntry).optional(),
  scaling: scalingModel,
  dependencies: z.array(z.strictObject({ when: registerName, moves: z.array(registerName).min(1), ...fact })),
  commands: z.partialRecord(commandName, procedure),
  procedures: z.strictObject({
    unlock: procedure.optional(),
    save: procedure.optional(),
    lock: procedure.optional(),
    restart: procedure.optional(),
  }),
  /** Writes that the memory stands, where the maker states it. */
  writeEndurance: z.int().positive().optional(),
})

/** One bundled or described indicator model. Nothing about a model stands in code. */
export const profile = profileFields.superRefine((p, ctx) => {
  const seen = new Map<string, number>()
  p.registers.forEach((r, i) => {
    const key = r.channel === undefined ? r.name : `${r.name}@${r.channel}`
    const before = seen.get(key)
    if (before !== undefined)
      ctx.addIssue({
        code: 'custom',
        path: ['registers', i, 'name'],
        message: `${key} is already register ${before}: give each meaning once per channel`,
      })
    seen.set(key, i)
    if (r.channel !== undefined && r.channel > p.channels)
      ctx.addIssue({
        code: 'custom',
        path: ['registers', i, 'channel'],
        message: p.channels === 0 ? 'the profile has no channels' : `at most ${p.channels}: the profile has no more channels`,
      })
  })
  for (const [later, earlier] of overlaps(p.registers)) {
    const [a, b] = [p.registers[later], p.registers[earlier]]
    ctx.addIssue({
      code: 'custom',
      path: ['registers', later, 'address'],
      message: `${a?.name} takes words of ${b?.name} at ${b?.address}: give it another address, or give both a field of different bits`,
    })
  }
  p.registers.forEach((r, i) => {
    const path = ['registers', i, 'type']
    if (addressCount(r) === 1) return
    if (p.requests.longestRead < 2)
      ctx.addIssue({ code: 'custom', path, message: 'takes two registers, and the longest read is 1: say 2 or more there' })
    if (r.access === 'read') return
    if (p.requests.writeWith === 'fc06')
      ctx.addIssue({
        code: 'custom',
        path,
        message: 'takes two registers, and function 06 writes one: say fc16 or either',
      })
    if (p.requests.longestWrite < 2)
      ctx.addIssue({ code: 'custom', path, message: 'takes two registers, and the longest write is 1: say 2 or more there' })
  })
  const entries = new Set(p.panel?.map((e) => e.name))
  p.panel?.forEach((e, i) => {
    for (const key of ['decimals', 'unit'] as const) {
      const said = e[key]
      if (typeof said === 'object' && !entries.has(said.entry))
        ctx.addIssue({ code: 'custom', path: ['panel', i, key, 'entry'], message: `there is no panel entry named ${said.entry}` })
    }
  })
  const names = new Set(p.registers.map((r) => r.name))
  const mustExist = (name: string, path: (string | number)[]) => {
    if (!names.has(name)) ctx.addIssue({ code: 'custom', path, message: `there is no register named ${name}` })
  }
  p.registers.forEach((r, i) => {
    if (typeof r.decimals === 'object') mustExist(r.decimals.register, ['registers', i, 'decimals', 'register'])
    if (typeof r.unit === 'object') mustExist(r.unit.register, ['registers', i, 'unit', 'register'])
  })
  p.identity.tests.forEach((t, i) => {
    mustExist(t.register, ['identity', 'tests', i, 'register'])
    if ((t.equals === undefined) === (t.oneOf === undefined))
      ctx.addIssue({ code: 'custom', path: ['identity', 'tests', i], message: 'give either equals or oneOf' })
  })
  p.identity.compareWithPanel.forEach((name, i) => {
    mustExist(name, ['identity', 'compareWithPanel', i])
  })
  p.dependencies.forEach((d, i) => {
    mustExist(d.when, ['dependencies', i, 'when'])
    d.moves.forEach((name, j) => {
      mustExist(name, ['dependencies', i, 'moves', j])
    })
  })
  for (const [group, procedures] of [
    ['commands', p.commands],
    ['procedures', p.procedures],
  ] as const)
    for (const [name, entry] of Object.entries(procedures))
      entry?.steps.forEach((s, i) => {
        if ('write' in s) mustExist(s.write, [group, name, 'steps', i, 'write'])
        if ('until' in s) mustExist(s.until, [group, name, 'steps', i, 'until'])
      })
})

export type Profile = z.infer<typeof profile>
export type Register = z.infer<typeof register>
export type PanelEntry = z.infer<typeof panelEntry>
export type Step = z.infer<typeof step>
export type ByteOrder = z.infer<typeof byteOrder>
export type SerialFormat = z.infer<typeof serialFormat>
export type CommandName = z.infer<typeof commandName>
export type Evidence = z.infer<typeof evidence>

/** Key of one register inside a profile: its name, with the channel where it belongs to one, e.g. `scale.upper.signal@1`. */
export const registerKey = (r: Pick<Register, 'name' | 'channel'>): string => (r.channel === undefined ? r.name : `${r.name}@${r.channel}`)
