import type { Profile } from '../profile/schema.ts'
import { appliedLoadCapture } from './models/applied-load-capture.ts'
import { capacityRatedOutput } from './models/capacity-rated-output.ts'
import { counts } from './models/counts.ts'
import { frontPanelEntry } from './models/front-panel-entry.ts'
import { pairTable } from './models/pair-table.ts'
import { slopeIntercept } from './models/slope-intercept.ts'
import { twoPairs } from './models/two-pairs.ts'
import type { ScalingModel } from './scaling-model.ts'

/** Every scaling model that a profile can name. */
export const scalingModels: Record<Profile['scaling']['model'], ScalingModel> = {
  'two-pairs': twoPairs,
  'pair-table': pairTable,
  'slope-intercept': slopeIntercept,
  'capacity-rated-output': capacityRatedOutput,
  counts,
  'applied-load-capture': appliedLoadCapture,
  'front-panel-entry': frontPanelEntry,
}
