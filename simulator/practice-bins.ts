import type { Profile } from '../app/profile/schema.ts'
import type { BenchBus, BenchIndicator } from './description.ts'

const channels = 4

/**
 * More points for the practice bench: bins on three cells each, four to a unit, on a network of their own. Most were scaled with nominal
 * outputs; of every five bins one was scaled for two cells instead of three. None had its dead load taken off.
 */
export function practiceBins(profile: Profile, units: number): BenchBus[] {
  if (units === 0) return []
  const indicators = Array.from({ length: units }, (_, i) => binUnit(profile, i))
  return [{ key: 'line-3', link: { kind: 'modbus-tcp', port: 0 }, indicators }]
}

function binUnit(profile: Profile, index: number): BenchIndicator {
  const bins = Array.from({ length: channels }, (_, i) => ({ channel: i + 1, bin: index * channels + i }))
  return {
    key: `ind-bins-${index + 1}`,
    unit: index + 1,
    profile,
    words: {
      'identity.model': [40404],
      'identity.serial': long(301_000 + index),
      'identity.firmware': [105],
      'excitation.voltage': [0],
      ...Object.assign({}, ...bins.map(({ channel, bin }) => scaledAs(channel, bin % 5 === 3 ? 2 : 3))),
    },
    points: bins.map(({ channel, bin }) => ({
      channel,
      unit: 'kg',
      sensors: [0, 1, 2].map((cell) => ({
        capacity: 1000,
        ratedOutputMvPerV: 2 + (((bin * 7 + cell * 3) % 11) - 5) / 5000,
        zeroMvPerV: 0.008 + ((bin * 5 + cell) % 7) / 1000,
      })),
      deadLoad: 180 + ((bin * 37) % 60),
      noiseMicrovolt: 0.2,
    })),
  }
}

/** 2000 kg on so many cells of 1000 kg and 2 mV/V, in kilograms with one decimal; signals in steps of 0.000001 mV/V. */
const scaledAs = (channel: number, cells: number): Record<string, number[]> => ({
  [`input.range@${channel}`]: [1],
  [`filter.cutoff@${channel}`]: [1],
  [`reading.unit@${channel}`]: [0],
  [`reading.decimals@${channel}`]: [1],
  [`scale.lower.signal@${channel}`]: long(11_000),
  [`scale.lower.reading@${channel}`]: long(0),
  [`scale.upper.signal@${channel}`]: long(11_000 + Math.round((2_000_000 * 2000) / (1000 * cells))),
  [`scale.upper.reading@${channel}`]: long(20_000),
})

/** Words of a signed 32-bit integer, high word first. */
const long = (value: number): number[] => [value >>> 16, value & 0xffff]
