export type WordTable = 'holding' | 'input'
export type BitTable = 'coil' | 'discrete'

/** An exception code in place of what was asked for. */
export type Refused = { refused: number }

/**
 * What a unit holds, as the function codes see it. Every method answers for the whole range asked:
 * exception 02 where part of it does not exist, 03 or 04 where a value or the moment does not allow it.
 */
export type Bank = {
  /** Function codes that this unit carries out. */
  knows(functionCode: number): boolean
  /** Most words of one read and one write; the protocol's own limits (125, 123) hold besides. */
  longest: { read: number; write: number }
  readWords(table: WordTable, address: number, count: number): number[] | Refused
  readBits(table: BitTable, address: number, count: number): boolean[] | Refused
  /** Exception that a write to this range would get because of its address alone. */
  addressRefusal(table: 'holding' | 'coil', address: number, count: number): Refused | undefined
  writeWords(address: number, words: readonly number[]): Refused | undefined
  writeBits(address: number, bits: readonly boolean[]): Refused | undefined
  exceptionStatus(): number
  /** Device-defined bytes of function 17: identification, run indicator, more. */
  serverId(): Uint8Array
  /** Conformity level and objects of function 43/14. */
  identification(): { conformity: number; objects: ReadonlyMap<number, string> }
}

export const isRefused = (outcome: unknown): outcome is Refused => typeof outcome === 'object' && outcome !== null && 'refused' in outcome
