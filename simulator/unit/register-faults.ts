import type { Fault } from '../description.ts'
import type { Refused } from '../modbus/bank.ts'
import type { Place } from './layout.ts'

export type RegisterFault = Extract<Fault, { register: string }>

export type RegisterFaults = {
  add(fault: RegisterFault): void
  clear(): void
  /** The exception that one of these registers was told to give: to writes, and to reads where it can only be read. */
  refusal(places: readonly Place[], writing: boolean): Refused | undefined
  /** True where a write to the register is to be answered and not done. */
  ignores(place: Place): boolean
}

/** Faults of single registers, counted down as requests touch them. */
export const registerFaults = (): RegisterFaults => {
  const faults: RegisterFault[] = []

  const take = (kind: RegisterFault['kind'], places: readonly Place[]): RegisterFault | undefined => {
    const index = faults.findIndex((fault) => fault.kind === kind && places.some((place) => place.key === fault.register))
    const fault = faults[index]
    if (fault === undefined) return undefined
    if (fault.times > 1) faults[index] = { ...fault, times: fault.times - 1 }
    else faults.splice(index, 1)
    return fault
  }

  return {
    add: (fault) => void faults.push(fault),
    clear() {
      faults.length = 0
    },
    refusal(places, writing) {
      const fault = take(
        'refuse',
        places.filter(({ register }) => writing || register.access === 'read'),
      )
      return fault?.kind === 'refuse' ? { refused: fault.code } : undefined
    },
    ignores: (place) => take('ignore', [place]) !== undefined,
  }
}
