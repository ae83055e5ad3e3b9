import type { Certificate, Job, Point } from '../../app/job/schema.ts'

type Stated = {
  serial: string
  capacity: [string, NonNullable<Certificate['capacity']>['unit']]
  ratedOutput: string
  zeroBalance?: string
}

export const certificate = ({ serial, capacity: [value, unit], ratedOutput, zeroBalance = '0.010' }: Stated): Certificate => ({
  number: `C-${serial}`,
  date: '2026-03-12',
  serial,
  capacity: { value, unit },
  ratedOutput: { value: ratedOutput, unit: 'mV/V' },
  zeroBalance: { value: zeroBalance, unit: 'mV/V' },
  inputResistance: { value: '385', unit: 'ohm' },
  outputResistance: { value: '350', unit: 'ohm' },
  excitationRecommended: { value: '5', unit: 'V' },
  excitationMaximum: { value: '12', unit: 'V' },
  safeOverloadPercent: '150',
  gravity: 'standard',
})

const hopperCells = (first: number, outputs: readonly string[]) =>
  outputs.map((ratedOutput, i) => certificate({ serial: String(first + i), capacity: ['500', 'kg'], ratedOutput }))

type Weighing = Pick<Point, 'id' | 'tag' | 'name' | 'indicatorId' | 'maximumLoad' | 'scaleInterval'> & {
  deadLoad: string
  certificates: Certificate[]
  tolerance: string
  channel?: number
}

export const weighing = ({ deadLoad, certificates, tolerance, channel = 1, ...point }: Weighing): Point => ({
  ...point,
  channel,
  unit: 'kg',
  loadPath: { sharePercent: '100', deadLoad: { value: deadLoad, unit: 'kg' }, gravityHere: { value: '9.80665', unit: 'm/s2' } },
  sensors: { certificates, trimmed: false },
  wiring: { wires: 6, senseAt: 'junction-box' },
  measured: {},
  intended: {},
  tolerance: { value: tolerance, why: 'site procedure: 0.05 % of maximum load' },
})

/** The demo scenario: hoppers, two silos on one four-channel unit and a press, each left by somebody with something not quite right. All of it is invented. */
export const practiceJob = (): Job => ({
  schema: 1,
  id: 'practice-feed-mill',
  name: 'Feed mill, line 2',
  site: 'Practice bench',
  simulated: true,
  decimalSign: '.',
  revision: 0,
  buses: [
    { id: 'bus-1', name: 'Practice line', link: { kind: 'practice', bus: 'line-1', framing: 'rtu' } },
    { id: 'bus-2', name: 'Practice network', link: { kind: 'practice', bus: 'line-2', framing: 'modbus-tcp' } },
  ],
  indicators: [
    { id: 'ind-1', name: 'Hopper A transmitter', busId: 'bus-1', unit: 1, profileId: 'two-pairs-float32-locked' },
    { id: 'ind-2', name: 'Hopper B transmitter', busId: 'bus-1', unit: 5, profileId: 'two-pairs-int32-low-word-first' },
    { id: 'ind-3', name: 'Silo unit', busId: 'bus-2', unit: 1, profileId: 'two-pairs-four-channels' },
    { id: 'ind-4', name: 'Press indicator', busId: 'bus-2', unit: 2, profileId: 'two-pairs-moving-decimals' },
  ],
  points: [
    weighing({
      id: 'wt-101',
      tag: 'WT-101',
      name: 'Batch hopper A',
      indicatorId: 'ind-1',
      maximumLoad: '1000',
      scaleInterval: '0.2',
      deadLoad: '150',
      certificates: hopperCells(40117, ['2.0018', '2.0024', '2.0021']),
      tolerance: '0.5',
    }),
    weighing({
      id: 'wt-102',
      tag: 'WT-102',
      name: 'Batch hopper B',
      indicatorId: 'ind-2',
      maximumLoad: '800',
      scaleInterval: '0.2',
      deadLoad: '140',
      certificates: hopperCells(40131, ['2.0009', '2.0013', '2.0016']),
      tolerance: '0.4',
    }),
    weighing({
      id: 'wt-201',
      tag: 'WT-201',
      name: 'Silo north',
      indicatorId: 'ind-3',
      channel: 1,
      maximumLoad: '5000',
      scaleInterval: '1',
      deadLoad: '900',
      certificates: ['2.0004', '2.0011'].map((ratedOutput, i) =>
        certificate({ serial: String(51200 + i), capacity: ['5000', 'kg'], ratedOutput }),
      ),
      tolerance: '2.5',
    }),
    weighing({
      id: 'wt-202',
      tag: 'WT-202',
      name: 'Silo south',
      indicatorId: 'ind-3',
      channel: 2,
      maximumLoad: '5000',
      scaleInterval: '1',
      deadLoad: '880',
      certificates: ['1.9993', '2.0002'].map((ratedOutput, i) =>
        certificate({ serial: String(51210 + i), capacity: ['5000', 'kg'], ratedOutput }),
      ),
      tolerance: '2.5',
    }),
    {
      id: 'pt-301',
      tag: 'PT-301',
      name: 'Press ram',
      indicatorId: 'ind-4',
      channel: 1,
      unit: 'bar',
      maximumLoad: '250',
      scaleInterval: '0.1',
      loadPath: { sharePercent: '100', pressure: 'gauge' },
      sensors: {
        certificates: [certificate({ serial: '70488', capacity: ['250', 'bar'], ratedOutput: '3.0021', zeroBalance: '0.0020' })],
        trimmed: false,
      },
      wiring: { wires: 4 },
      measured: {},
      intended: {},
      tolerance: { value: '0.3', why: 'site procedure: 0.1 % of range, up to the next whole interval' },
    },
  ],
  visits: [],
  profiles: [],
})
