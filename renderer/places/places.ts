import type { ComponentType } from 'react'
import type { PointView } from '../state/point-view.ts'
import { CheckPlace } from './check.tsx'
import { InputPlace } from './input.tsx'
import { LoadPlace } from './load.tsx'
import type { PlaceId } from './place-ids.ts'
import { ReadingPlace } from './reading.tsx'
import { ScalingPlace } from './scaling.tsx'
import { SensorsPlace } from './sensors.tsx'
import { SettingsPlace } from './settings.tsx'
import { WiringPlace } from './wiring.tsx'

export const places: Record<PlaceId, ComponentType<{ view: PointView }>> = {
  load: LoadPlace,
  sensors: SensorsPlace,
  wiring: WiringPlace,
  input: InputPlace,
  scaling: ScalingPlace,
  settings: SettingsPlace,
  reading: ReadingPlace,
  check: CheckPlace,
}
