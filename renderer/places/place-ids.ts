/** The eight places of a measuring chain, in the order of the signal. */
export const placeIds = ['load', 'sensors', 'wiring', 'input', 'scaling', 'settings', 'reading', 'check'] as const
export type PlaceId = (typeof placeIds)[number]

export const placeNames: Record<PlaceId, string> = {
  load: 'Load',
  sensors: 'Sensors',
  wiring: 'Wiring',
  input: 'Input',
  scaling: 'Scaling',
  settings: 'Settings',
  reading: 'Reading',
  check: 'Check',
}
