import { readProfile } from '../profile/read-profile.ts'
import type { Profile } from '../profile/schema.ts'
import appliedLoadCapture from './applied-load-capture.profile.json' with { type: 'json' }
import capacityRatedOutputFunction06 from './capacity-rated-output-function-06.profile.json' with { type: 'json' }
import countsMillivoltInput from './counts-millivolt-input.profile.json' with { type: 'json' }
import frontPanelOnly from './front-panel-only.profile.json' with { type: 'json' }
import pairTableFloat32 from './pair-table-float32.profile.json' with { type: 'json' }
import readingAloneOnTheBus from './reading-alone-on-the-bus.profile.json' with { type: 'json' }
import slopeInterceptFloat32 from './slope-intercept-float32.profile.json' with { type: 'json' }
import twoPairsBusInRegisters from './two-pairs-bus-in-registers.profile.json' with { type: 'json' }
import twoPairsFloat32Locked from './two-pairs-float32-locked.profile.json' with { type: 'json' }
import twoPairsFourChannels from './two-pairs-four-channels.profile.json' with { type: 'json' }
import twoPairsInt32LowWordFirst from './two-pairs-int32-low-word-first.profile.json' with { type: 'json' }
import twoPairsMovingDecimals from './two-pairs-moving-decimals.profile.json' with { type: 'json' }

const files: unknown[] = [
  twoPairsFloat32Locked,
  appliedLoadCapture,
  capacityRatedOutputFunction06,
  countsMillivoltInput,
  frontPanelOnly,
  pairTableFloat32,
  readingAloneOnTheBus,
  slopeInterceptFloat32,
  twoPairsBusInRegisters,
  twoPairsFourChannels,
  twoPairsInt32LowWordFirst,
  twoPairsMovingDecimals,
]

/** The generic practice models that come with the program, by id. A bundled file that does not fit the schema is a programming mistake. */
export const bundledProfiles: ReadonlyMap<string, Profile> = new Map(
  files.map((json) => {
    const read = readProfile(json)
    if (!read.ok) throw new TypeError(read.failure.problems.map((p) => `${p.path}: ${p.message}`).join('\n'))
    return [read.value.id, read.value]
  }),
)
