import type { Bank, BitTable, Refused, WordTable } from './bank.ts'
import { allFunctions } from './serve.ts'

type Cells<T> = ReadonlyMap<number, T>

/** A bare set of registers without an indicator behind it; writes change the maps given. */
export const wordBank = (held: {
  holding?: Map<number, number>
  coil?: Map<number, boolean>
  input?: Cells<number>
  discrete?: Cells<boolean>
  exceptionStatus?: number
  serverId?: Uint8Array
  identification?: { conformity: number; objects: ReadonlyMap<number, string> }
}): Bank => {
  const holding = held.holding ?? new Map<number, number>()
  const coil = held.coil ?? new Map<number, boolean>()
  const words: Record<WordTable, Cells<number>> = { holding, input: held.input ?? new Map() }
  const bits: Record<BitTable, Cells<boolean>> = { coil, discrete: held.discrete ?? new Map() }
  const read = <T>(cells: Cells<T>, address: number, count: number): T[] | Refused => {
    const values: T[] = []
    for (let at = address; at < address + count; at++) {
      const value = cells.get(at)
      if (value === undefined) return { refused: 2 }
      values.push(value)
    }
    return values
  }
  const write = <T>(cells: Map<number, T>, address: number, values: readonly T[]): undefined => {
    values.forEach((value, i) => {
      cells.set(address + i, value)
    })
  }
  return {
    knows: (functionCode) => allFunctions.includes(functionCode),
    longest: { read: 125, write: 123 },
    readWords: (table, address, count) => read(words[table], address, count),
    readBits: (table, address, count) => read(bits[table], address, count),
    addressRefusal(table, address, count) {
      const cells: Cells<unknown> = table === 'holding' ? holding : coil
      for (let at = address; at < address + count; at++) if (!cells.has(at)) return { refused: 2 }
      return undefined
    },
    writeWords: (address, values) => write(holding, address, values),
    writeBits: (address, values) => write(coil, address, values),
    exceptionStatus: () => held.exceptionStatus ?? 0,
    serverId: () => held.serverId ?? Uint8Array.of(0, 0xff),
    identification: () => held.identification ?? { conformity: 1, objects: new Map() },
  }
}
