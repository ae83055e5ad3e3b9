import type { Certificate, Job } from '../../app/job/schema.ts'

const cell = (serial: string, ratedOutput: string): Certificate => ({
  number: `C-${serial}`,
  date: '2026-03-12',
  serial,
  capacity: { value: '500', unit: 'kg' },
  ratedOutput: { value: ratedOutput, unit: 'mV/V' },
  zeroBalance: { value: '0.010', unit: 'mV/V' },
  inputResistance: { value: '385', unit: 'ohm' },
  outputResistance: { value: '350', unit: 'ohm' },
  excitationRecommended: { value: '5', unit: 'V' },
  excitationMaximum: { value: '12', unit: 'V' },
  safeOverloadPercent: '150',
  gravity: 'standard',
})

/** The demo scenario: one hopper on three cells whose indicator was scaled with the cells' nominal output. All of it is invented. */
export const practiceJob = (): Job => ({
  schema: 1,
  id: 'practice-feed-mill',
  name: 'Feed mill, line 2',
  site: 'Practice bench',
  simulated: true,
  decimalSign: '.',
  revision: 0,
  buses: [{ id: 'bus-1', name: 'Practice line', link: { kind: 'practice', bus: 'line-1' } }],
  indicators: [{ id: 'ind-1', name: 'Hopper A transmitter', busId: 'bus-1', unit: 1, profileId: 'two-pairs-float32-locked' }],
  points: [
    {
      id: 'wt-101',
      tag: 'WT-101',
      name: 'Batch hopper A',
      indicatorId: 'ind-1',
      channel: 1,
      unit: 'kg',
      maximumLoad: '1000',
      scaleInterval: '0.2',
      loadPath: { sharePercent: '100', deadLoad: { value: '150', unit: 'kg' }, gravityHere: { value: '9.80665', unit: 'm/s2' } },
      sensors: { certificates: [cell('40117', '2.0018'), cell('40118', '2.0024'), cell('40121', '2.0021')], trimmed: false },
      wiring: { wires: 6 },
      measured: {},
      intended: {},
      tolerance: { value: '0.5', why: 'site procedure: 0.05 % of maximum load' },
    },
  ],
  visits: [],
  profiles: [],
})
