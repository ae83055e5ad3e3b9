import { type PlaceId, placeIds } from '../places/place-ids.ts'
import type { PointView } from '../state/point-view.ts'
import type { ChainCell } from './cells/chain-cell.ts'
import { showCheck } from './cells/check.tsx'
import { showInput } from './cells/input.tsx'
import { showLoad } from './cells/load.tsx'
import { showReading } from './cells/reading.tsx'
import { showScaling } from './cells/scaling.tsx'
import { showSensors } from './cells/sensors.tsx'
import { showSettings } from './cells/settings.tsx'
import { showWiring } from './cells/wiring.tsx'

/** What each place shows of a point. */
export const chainCells: Record<PlaceId, (view: PointView) => ChainCell> = {
  load: showLoad,
  sensors: showSensors,
  wiring: showWiring,
  input: showInput,
  scaling: showScaling,
  settings: showSettings,
  reading: showReading,
  check: showCheck,
}

/** Phrases of all places where somebody has to look: what is lost, then the reading itself, then in the order of the chain. */
export function needsAttention(view: PointView): { phrase: string; tone: 'attention' | 'lost' }[] {
  const found = placeIds.flatMap((place) => {
    const { phrase, tone } = chainCells[place](view)
    return phrase && tone !== 'plain' ? [{ phrase, tone, rank: tone === 'lost' ? 0 : place === 'reading' ? 1 : 2 }] : []
  })
  return found.sort((a, b) => a.rank - b.rank).map(({ phrase, tone }) => ({ phrase, tone }))
}
