import type { LiveSample } from '../../app/contract/views.ts'

export const recordingHeader = {
  job: 'Mill, "north"',
  point: 'WT-101',
  pointId: 'wt-101',
  unit: 'kg',
  indicator: 'Panel A',
  profile: 'two-pairs-float32-locked',
  simulated: true,
  by: 'A. Tester',
  anchor: '2026-11-25T10:00:00.000Z',
  startedAt: '2026-11-25T10:00:01.000Z',
}

/** `at` in monotonic milliseconds. */
export const recordingSample = (at: number, reading: string | null): LiveSample => ({
  pointId: 'wt-101',
  at,
  reading,
  gross: null,
  unit: 'kg',
  signal: '-0.00012',
  signalUnit: 'mV/V',
  signalOrigin: 'measured',
  status: ['motion', 'net'],
})
