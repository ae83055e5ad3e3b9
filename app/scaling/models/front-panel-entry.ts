import { channelRegister } from '../reading-settings.ts'
import type { ScalingModel } from '../scaling-model.ts'
import { capacityRatedOutput } from './capacity-rated-output.ts'
import { twoPairs } from './two-pairs.ts'

/** Typed at the front panel: capacity and rated output where its menu asks for these, else both pairs. The reading is checked afterwards. */
export const frontPanelEntry: ScalingModel = {
  fit(c) {
    const model = channelRegister(c.profile, 'scale.capacity', c.point.channel) ? capacityRatedOutput : twoPairs
    return model.fit(c)
  },
}
