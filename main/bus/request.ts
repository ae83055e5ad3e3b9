import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Result } from '../../app/result.ts'

/** One Modbus request, before framing. Addresses are zero-based; words are 16-bit unsigned. */
export type Request =
  | { kind: 'read-registers'; table: 'holding' | 'input'; address: number; count: number }
  | { kind: 'read-bits'; table: 'coil' | 'discrete'; address: number; count: number }
  | { kind: 'write-register'; address: number; word: number }
  | { kind: 'write-registers'; address: number; words: readonly number[] }
  | { kind: 'write-coil'; address: number; on: boolean }
  | { kind: 'write-coils'; address: number; on: readonly boolean[] }
  | { kind: 'mask-write'; address: number; and: number; or: number }
  | { kind: 'device-identification'; code: 1 | 2 | 3; object: number }
  | { kind: 'server-id' }

/**
 * What the unit answered; `at` is monotonic milliseconds of the last received byte. `ownMs` is what remains of `tookMs` without
 * the characters on the wire: the time of the unit and of whatever stands between; absent where the link has no wire of its own.
 */
export type Answer = { at: number; tookMs: number; ownMs?: number } & (
  | { kind: 'words'; words: number[] }
  | { kind: 'bits'; bits: boolean[] }
  | { kind: 'done' }
  | { kind: 'objects'; objects: { id: number; text: string }[]; more: boolean; next: number }
  | { kind: 'bytes'; bytes: Uint8Array }
)

export type Outcome = Result<Answer, BusFailure>

/** A way to units that carries one request at a time. Serial RTU, RTU over TCP and Modbus TCP all look like this. */
export type Link = {
  readonly state: LinkState
  onState(listener: (state: LinkState) => void): () => void
  /**
   * Sends one request and settles by the deadline at the latest. Never call it again before it settled.
   * `maySend` is asked just before the first byte leaves; where it says no, the outcome is `stopped` and nothing was sent.
   */
  transact(unit: number, request: Request, answerWithinMs: number, maySend?: () => boolean): Promise<Outcome>
  /** Bytes that arrive while nothing was asked; a serial link reports them so that another master is noticed. */
  onUnasked(listener: (bytes: Uint8Array) => void): () => void
  /** Every frame in either direction with its monotonic time; for saving. */
  onTap(listener: (frame: TappedFrame) => void): () => void
  close(): Promise<void>
}

export type LinkState = { kind: 'open' } | { kind: 'down'; why: string } | { kind: 'closed' }

/** `odd` says what a received frame had besides an answer: our own bytes given back, or bytes that belong to nobody. */
export type TappedFrame = {
  at: number
  direction: 'sent' | 'received'
  bytes: Uint8Array
  note?: string
  odd?: readonly ('echo' | 'stray')[]
}
