import { encode } from '../profile/codec.ts'
import { nearestFloat32, shortestText } from '../profile/float32.ts'
import type { Register } from '../profile/schema.ts'
import type { DecimalText } from '../quantity/decimal-text.ts'
import { type Exact, exact, exactFromNumber, fromInteger, powerOfTen, toDecimal, toSignificant } from '../quantity/exact.ts'
import { fail, ok, type Result } from '../result.ts'
import type { ScalingFailure } from './scaling-failure.ts'

/** What values a register can hold: whole multiples of ten to minus `decimals`, or single floats. */
export type Digits = { kind: 'decimal'; decimals: number } | { kind: 'float32' }

/** A value as it is typed into an indicator, and what the indicator then holds (a float holds the nearest single). */
export type Held = { text: DecimalText; value: Exact }

export const digitsOf = (r: Register, decimals: number | undefined): Digits | undefined =>
  r.type === 'f32' ? { kind: 'float32' } : decimals === undefined ? undefined : { kind: 'decimal', decimals }

/** The value nearest to the one wanted; a float's text is the shortest that names it. Halves go away from zero. */
export function nearestHeld(digits: Digits, wanted: Exact): Held {
  if (digits.kind === 'decimal') {
    const text = toDecimal(wanted, digits.decimals)
    return { text, value: exact(text) }
  }
  // 40 digits are far beyond the 9 that tell singles apart
  const single = nearestFloat32(toSignificant(wanted, 40))
  return {
    text: Number.isFinite(single) ? shortestText(single) : toSignificant(wanted, 9),
    value: Number.isFinite(single) ? exactFromNumber(single) : wanted,
  }
}

const view = new DataView(new ArrayBuffer(4))

/** Distance between neighbouring values around the one given. A single float has 24 bits; source: IEEE 754-2019, binary32. */
export function digitAround(digits: Digits, value: Exact): Exact {
  if (digits.kind === 'decimal') return powerOfTen(-digits.decimals)
  view.setFloat32(0, nearestFloat32(toSignificant(value, 40)))
  const power = Math.max((view.getUint32(0) >>> 23) & 0xff, 1) - 150
  return power >= 0 ? fromInteger(1n << BigInt(power)) : fromInteger(1).div(fromInteger(1n << BigInt(-power)))
}

/** Is this text taken by the indicator: its limits, its width, its digits? */
export function accepted(r: Register, key: string, held: Held, digits: Digits): Result<Held, ScalingFailure> {
  const encoded = encode(r, held.text, digits.kind === 'decimal' ? { decimals: digits.decimals } : {})
  return encoded.ok ? ok(held) : fail({ kind: 'not-accepted', register: key, value: held.text, why: encoded.failure.why })
}
