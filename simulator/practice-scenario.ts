import type { Profile } from '../app/profile/schema.ts'
import type { BenchBus } from './description.ts'

/** Words of a big-endian single float, high word first. */
function float(value: number): number[] {
  const view = new DataView(new ArrayBuffer(4))
  view.setFloat32(0, value)
  return [view.getUint16(0), view.getUint16(2)]
}

/**
 * The practice bench: what is really bolted to the floor. The cells differ a little from their certificates, as cells do,
 * and the indicator was left scaled with their nominal 2 mV/V, which costs five scale intervals at maximum load.
 */
export function practiceBuses(profiles: ReadonlyMap<string, Profile>, link: 'pty' | 'rtu-over-tcp'): BenchBus[] {
  const profile = profiles.get('two-pairs-float32-locked')
  if (!profile) throw new RangeError('the practice bench needs the profile two-pairs-float32-locked')
  return [
    {
      key: 'line-1',
      link: link === 'pty' ? { kind: 'pty', baud: 19_200, bitsPerCharacter: 11 } : { kind: 'rtu-over-tcp', port: 0 },
      indicators: [
        {
          key: 'ind-1',
          unit: 1,
          profile,
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
              sensors: [
                { capacity: 500, ratedOutputMvPerV: 2.00187, zeroMvPerV: 0.0113 },
                { capacity: 500, ratedOutputMvPerV: 2.00236, zeroMvPerV: 0.0092 },
                { capacity: 500, ratedOutputMvPerV: 2.00214, zeroMvPerV: 0.0121 },
              ],
              deadLoad: 150.4,
              noiseMicrovolt: 0.15,
            },
          ],
        },
      ],
    },
  ]
}
