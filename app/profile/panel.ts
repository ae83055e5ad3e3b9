import { type PanelEntry, type Profile, type Register, registerKey } from './schema.ts'

/** The front panel's entries for one channel, in the order of typing, and whether the profile states them. */
export type Panel = { entries: readonly PanelEntry[]; digitsKnown: boolean }

/**
 * Where a profile says only that scaling is typed at the front panel: both pairs, with the decimals of the reading and five of the signal.
 * `digitsKnown` is false then.
 */
export function panelOf(profile: Profile, channel: number, readingDecimals: number): Panel {
  const given = profile.panel?.filter((e) => (e.channel ?? channel) === channel) ?? []
  if (given.length > 0 || profile.scaling.model !== 'front-panel-entry') return { entries: given, digitsKnown: true }
  const { evidence } = profile.scaling
  const signalUnit = profile.input?.signalUnit ?? 'mV/V'
  const signal = (name: string, label: string): PanelEntry => ({ name, channel, label, decimals: 5, unit: signalUnit, evidence })
  const reading = (name: string, label: string): PanelEntry => ({ name, channel, label, decimals: readingDecimals, evidence })
  return {
    digitsKnown: false,
    entries: [
      signal('scale.lower.signal', 'Signal at zero'),
      reading('scale.lower.reading', 'Reading at zero'),
      signal('scale.upper.signal', 'Signal at the upper load'),
      reading('scale.upper.reading', 'Reading at the upper load'),
    ],
  }
}

/** The profile with its panel entries as registers that no bus reaches, so that what is typed is fitted like what is written. */
export function withPanel(profile: Profile, panel: Panel): Profile {
  const onBus = new Set(profile.registers.map(registerKey))
  const typed = panel.entries.filter((e) => !onBus.has(registerKey(e))).map(panelRegister)
  return typed.length === 0 ? profile : { ...profile, registers: [...profile.registers, ...typed] }
}

function panelRegister(entry: PanelEntry, index: number): Register {
  const { name, channel, decimals, unit, options, limits, evidence } = entry
  return {
    name,
    ...(channel === undefined ? {} : { channel }),
    table: 'holding',
    address: 2 * index,
    type: 'i32',
    order: 'ABCD',
    ...(decimals === undefined ? {} : { decimals: typeof decimals === 'object' ? { register: decimals.entry } : decimals }),
    ...(unit === undefined ? {} : { unit: typeof unit === 'object' ? { register: unit.entry } : unit }),
    ...(options ? { options: options.map((means, raw) => ({ raw, means })) } : {}),
    ...(limits ? { limits } : {}),
    access: 'read-write',
    role: 'setting',
    kept: 'at-once',
    takesEffect: 'now',
    readBack: 'exact',
    evidence,
  }
}
