import type { PointField } from '../../app/contract/import-calls.ts'

/** What a column of a sheet can hold, in the words of the screen. */
export const fieldNames: Record<PointField, string> = {
  tag: 'Tag',
  name: 'Name',
  indicator: 'Indicator',
  channel: 'Channel',
  unit: 'Unit',
  maximumLoad: 'Maximum load',
  scaleInterval: 'Scale interval d',
  sharePercent: 'Share of the load',
  deadLoad: 'Dead load',
  gravityHere: 'Gravity here',
  pressure: 'Kind of pressure',
  wires: 'Wires',
  sensorCount: 'Number of sensors',
  serials: 'Sensor serials',
  capacity: 'Sensor capacity',
  ratedOutput: 'Rated output',
  zeroBalance: 'Zero balance',
  safeOverload: 'Safe overload',
}
