import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { LiveSample } from '../../app/contract/views.ts'
import type { SettingsImage } from '../../app/job/schema.ts'
import { decodeBits } from '../../app/profile/codec.ts'
import { withHolders } from '../../app/profile/meaning.ts'
import { type Register, registerKey } from '../../app/profile/schema.ts'
import { interpret, siblingKey, unitFrom } from '../../app/profile/settings.ts'
import { ok, type Result } from '../../app/result.ts'
import { derivedSignal } from '../../app/scaling/derived-signal.ts'
import type { Priority, UnitIo } from './unit-io.ts'

export type Channel = { pointId: string; channel: number }

/**
 * One live read of the channels in use of one indicator, in as few requests as the profile allows. Registers that say in which
 * decimals or unit a value stands are read along, from another table too: somebody at the front panel may just have changed them.
 */
export async function readLive(
  io: UnitIo,
  channels: readonly Channel[],
  held: SettingsImage | null,
  priority: Priority,
): Promise<Result<LiveSample[], BusFailure>> {
  const wanted = io.profile.registers.filter(
    (r) => r.role === 'live' && r.access === 'read' && (r.channel === undefined || channels.some((c) => c.channel === r.channel)),
  )
  const read = await io.read(withHolders(io.profile, wanted), priority)
  if (!read.ok) return read
  return ok(channels.map((c) => sampleOf(io, c, read.value.words, read.value.at, held)))
}

function sampleOf(
  io: UnitIo,
  { pointId, channel }: Channel,
  words: Map<string, number[]>,
  at: number,
  held: SettingsImage | null,
): LiveSample {
  const { profile } = io
  const register = (name: string) => profile.registers.find((r) => r.name === name && (r.channel ?? channel) === channel)
  const values = interpret(profile, new Map([...heldWords(held), ...words]))
  const valueAt = (key: string) => values[key]?.value
  const text = (name: string) => {
    const r = register(name)
    const value = r && words.has(registerKey(r)) ? valueAt(registerKey(r)) : undefined
    return value ?? null
  }
  const display = (name: string) => {
    const r = register(name)
    const value = text(name)
    return r && value !== null ? withDecimals(r, value, decimalsHeld(r, valueAt)) : value
  }
  const decimalsHeld = (r: Register, of: (key: string) => string | null | undefined): number | undefined => {
    const key = siblingKey(profile, r, 'reading.decimals')
    const value = key && of(key)
    return value && /^\d$/.test(value) ? Number(value) : undefined
  }
  const reading = register('live.reading') ?? register('live.gross')
  const measured = text('live.signal')
  const derived = measured === null ? derivedSignal(profile, channel, held, text('live.gross') ?? text('live.reading')) : null
  const status = profile.registers.flatMap((r) => {
    const held = r.role === 'live' && r.bits && (r.channel ?? channel) === channel ? words.get(registerKey(r)) : undefined
    return held ? decodeBits(r, held) : []
  })
  return {
    pointId,
    at,
    reading: display('live.reading') ?? display('live.gross'),
    gross: display('live.gross'),
    unit: (reading && unitFrom(profile, reading, valueAt)) ?? '',
    signal: measured ?? derived,
    signalUnit: profile.input?.signalUnit ?? 'mV/V',
    signalOrigin: measured !== null ? 'measured' : derived !== null ? 'derived' : 'none',
    status: [...new Set(status)],
  }
}

const heldWords = (held: SettingsImage | null): [string, number[]][] => Object.entries(held?.values ?? {}).map(([key, v]) => [key, v.words])

/** A float reading is shown with the decimals that the indicator itself shows. */
function withDecimals(r: Register, value: string, decimals: number | undefined): string {
  return r.type === 'f32' && decimals !== undefined ? Number(value).toFixed(decimals) : value
}
