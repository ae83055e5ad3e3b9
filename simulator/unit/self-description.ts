import type { BenchIndicator } from '../description.ts'
import type { Bank } from '../modbus/bank.ts'
import { allFunctions } from '../modbus/serve.ts'
import type { Layout } from './layout.ts'
import { valueAt, type Words } from './memory.ts'

/** What a unit says of itself: the functions that it knows, and who it is. `present` gives the words that it works with now. */
export const selfDescription = (
  { profile, unit }: BenchIndicator,
  layout: Layout,
  present: () => Words,
): Pick<Bank, 'knows' | 'exceptionStatus' | 'serverId' | 'identification'> => {
  const identityText = (name: string): string => {
    const place = layout.byName(name)[0]
    return place ? String(valueAt(present(), layout, place)) : ''
  }
  return {
    knows(functionCode) {
      if (functionCode === 0x06) return profile.requests.writeWith !== 'fc16'
      if (functionCode === 0x10) return profile.requests.writeWith !== 'fc06'
      if (functionCode === 0x01 || functionCode === 0x05 || functionCode === 0x0f) return layout.has('coil')
      if (functionCode === 0x02) return layout.has('discrete')
      return allFunctions.includes(functionCode)
    },
    exceptionStatus: () => 0,
    serverId: () => Uint8Array.of(unit, 0xff, ...new TextEncoder().encode(profile.id)),
    identification: () => ({
      conformity: 0x81,
      objects: new Map([
        [0, profile.source.document],
        [1, profile.id],
        [2, identityText('identity.firmware')],
      ]),
    }),
  }
}
