import type { Profile } from '../app/profile/schema.ts'
import type { BenchBus, BenchPoint } from './description.ts'
import { practiceBins } from './practice-bins.ts'

/** Words of a big-endian single float, high word first. */
function float(value: number): number[] {
  const view = new DataView(new ArrayBuffer(4))
  view.setFloat32(0, value)
  return [view.getUint16(0), view.getUint16(2)]
}

/** Words of a signed 32-bit integer, high word first. */
function long(value: number): number[] {
  const view = new DataView(new ArrayBuffer(4))
  view.setInt32(0, value)
  return [view.getUint16(0), view.getUint16(2)]
}

/** Somebody set all units of the practice line to this, whatever they come with. */
const lineFormat = { baud: 19_200, parity: 'even', stopBits: 1 } as const

const longLowFirst = (value: number) => long(value).reverse()

const cells = (capacity: number, truths: readonly [number, number][]): BenchPoint['sensors'] =>
  truths.map(([ratedOutputMvPerV, zeroMvPerV]) => ({ capacity, ratedOutputMvPerV, zeroMvPerV }))

/**
 * The practice bench: what is really bolted to the floor. The cells differ a little from their certificates, as cells do.
 * Each indicator was left with something wrong: nominal instead of certified outputs, kilograms taken for pounds,
 * a span set for a single cell's nominal value, and a press whose rated output was rounded. Units of bins come besides, if asked for.
 */
export function practiceBuses(profiles: ReadonlyMap<string, Profile>, line: 'pty' | 'rtu-over-tcp', binUnits = 0): BenchBus[] {
  const profile = (id: string): Profile => {
    const found = profiles.get(id)
    if (!found) throw new RangeError(`the practice bench needs the profile ${id}`)
    return found
  }
  return [
    {
      key: 'line-1',
      link: line === 'pty' ? { kind: 'pty', baud: 19_200, bitsPerCharacter: 11, adapter: true } : { kind: 'rtu-over-tcp', port: 0 },
      indicators: [
        {
          key: 'ind-1',
          unit: 1,
          profile: profile('two-pairs-float32-locked'),
          format: lineFormat,
          words: {
            'identity.model': [20817],
            'identity.firmware': [214],
            'identity.serial': [0x0006, 0x1f2d],
            'input.range@1': [1],
            'excitation.voltage@1': [1],
            'filter.time@1': [20],
            'reading.decimals@1': [1],
            'reading.unit@1': [0],
            'reading.interval@1': float(0.2),
            'scale.lower.signal@1': float(0.2119),
            'scale.lower.reading@1': float(0),
            'scale.upper.signal@1': float(1.5452),
            'scale.upper.reading@1': float(1000),
          },
          points: [
            {
              channel: 1,
              unit: 'kg',
              sensors: cells(500, [
                [2.00187, 0.0113],
                [2.00236, 0.0092],
                [2.00214, 0.0121],
              ]),
              deadLoad: 150.4,
              noiseMicrovolt: 0.15,
            },
          ],
        },
        {
          key: 'ind-2',
          unit: 5,
          profile: profile('two-pairs-int32-low-word-first'),
          format: lineFormat,
          words: {
            'identity.model': [412],
            'identity.serial': longLowFirst(118_204),
            'identity.firmware': [31],
            'reading.unit@1': [1],
            'reading.interval@1': [4],
            'filter.time@1': [3],
            // 800 lb where 800 kg was meant: the span is 0.4536 of what it should be.
            'scale.lower.signal@1': longLowFirst(19_710),
            'scale.lower.reading@1': longLowFirst(0),
            'scale.upper.signal@1': longLowFirst(68_130),
            'scale.upper.reading@1': longLowFirst(80_000),
          },
          points: [
            {
              channel: 1,
              unit: 'kg',
              sensors: cells(500, [
                [2.00085, 0.0102],
                [2.00138, 0.0098],
                [2.00157, 0.0107],
              ]),
              deadLoad: 140.2,
              noiseMicrovolt: 0.15,
            },
          ],
        },
      ],
    },
    {
      key: 'line-2',
      link: { kind: 'modbus-tcp', port: 0 },
      indicators: [
        {
          key: 'ind-3',
          unit: 1,
          profile: profile('two-pairs-four-channels'),
          words: {
            'identity.model': [40404],
            'identity.serial': long(300_717),
            'identity.firmware': [105],
            'excitation.voltage': [0],
            ...silo(1),
            ...silo(2),
          },
          points: [
            {
              channel: 1,
              unit: 'kg',
              sensors: cells(5000, [
                [2.00046, 0.0088],
                [2.00103, 0.0113],
              ]),
              deadLoad: 903,
              noiseMicrovolt: 0.2,
            },
            {
              channel: 2,
              unit: 'kg',
              sensors: cells(5000, [
                [1.99926, 0.0094],
                [2.00027, 0.0105],
              ]),
              deadLoad: 878,
              noiseMicrovolt: 0.2,
            },
          ],
        },
        {
          key: 'ind-4',
          unit: 2,
          profile: profile('two-pairs-moving-decimals'),
          words: {
            'identity.model': [7105],
            'identity.firmware': [120],
            'identity.serial': long(9_041),
            'reading.decimals@1': [1],
            'reading.unit@1': [5],
            'reading.interval@1': [1],
            'scale.lower.signal@1': [20],
            'scale.lower.reading@1': long(0),
            'scale.upper.signal@1': [30_020],
            'scale.upper.reading@1': long(2500),
            'setpoint.1.value@1': long(2000),
            'setpoint.2.value@1': long(2400),
            'setpoint.3.value@1': long(0),
            'filter.cutoff@1': [3],
          },
          points: [{ channel: 1, unit: 'bar', sensors: cells(250, [[3.00213, 0.0021]]), deadLoad: 0, noiseMicrovolt: 0.3 }],
        },
      ],
    },
    ...practiceBins(profile('two-pairs-four-channels'), binUnits),
  ]
}

/** A silo as it was left: 5000 kg on two 5 t cells scaled with their nominal 2 mV/V. */
function silo(channel: number): Record<string, number[]> {
  return {
    [`input.range@${channel}`]: [1],
    [`filter.cutoff@${channel}`]: [2],
    [`reading.unit@${channel}`]: [0],
    [`reading.decimals@${channel}`]: [0],
    [`scale.lower.signal@${channel}`]: long(190_000),
    [`scale.lower.reading@${channel}`]: long(0),
    [`scale.upper.signal@${channel}`]: long(1_190_000),
    [`scale.upper.reading@${channel}`]: long(5000),
  }
}
