import { fail, ok, type Result } from '../result.ts'
import { nearestFloat32, shortestText } from './float32.ts'
import type { Register } from './schema.ts'
import { bitsFromFloat, floatFromBits, joinWords, splitWords, wordCount } from './words.ts'

/** Why a text cannot be put into a register; the sentence leaves its name to whoever knows the words for it. */
export type CodecFailure = {
  kind: 'not-a-number' | 'too-many-decimals' | 'beyond-width' | 'beyond-limits' | 'no-such-option' | 'decimals-unknown' | 'read-only'
  why: string
}

/** What decoding needs beside the register itself. */
export type DecodeContext = {
  /** Decimals now held in the register that says so; undefined where it has not been read. */
  decimals?: number | undefined
}

/** What decoding looks at; a register that is only being guessed at has no more. */
type Decodable = Pick<Register, 'name' | 'type' | 'order' | 'field' | 'options' | 'decimals'>

const signed = (unsigned: number, bits: number) => (unsigned >= 2 ** (bits - 1) ? unsigned - 2 ** bits : unsigned)

const decimalsOf = (r: Pick<Register, 'decimals'>, context: DecodeContext): number | undefined =>
  r.decimals === undefined ? 0 : typeof r.decimals === 'number' ? r.decimals : context.decimals

/** Integer in the register's field (or the whole register), sign applied. */
function fieldValue(r: Decodable, words: readonly number[]): number {
  const unsigned = rawField(r, words)
  if (r.field) return unsigned
  const bits = 16 * wordCount(r.type)
  return r.type === 'i16' || r.type === 'i32' ? signed(unsigned, bits) : unsigned
}

/** Raw bits of the register's field, or of all of it, without sign. */
export function rawField(r: Pick<Register, 'order' | 'field'>, words: readonly number[]): number {
  const unsigned = joinWords(words, r.order)
  return r.field ? Math.floor(unsigned / 2 ** r.field.from) % 2 ** r.field.width : unsigned
}

/** "-1234" with 2 decimals is "-12.34": a decimal text, exact. */
function shiftDecimals(whole: number, decimals: number): string {
  if (decimals === 0) return String(whole)
  const digits = String(Math.abs(whole)).padStart(decimals + 1, '0')
  return `${whole < 0 ? '-' : ''}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`
}

/**
 * Text of what the words mean: a decimal in the register's unit, or the option's meaning.
 * Null where they mean nothing: NaN, infinity, an option that the profile does not know, decimals not read.
 */
export function decode(r: Decodable, words: readonly number[], context: DecodeContext = {}): string | null {
  if (words.length !== wordCount(r.type)) throw new RangeError(`${r.name} takes ${wordCount(r.type)} words, got ${words.length}`)
  if (r.type === 'f32') {
    const value = floatFromBits(joinWords(words, r.order))
    return Number.isFinite(value) ? shortestText(value) : null
  }
  const whole = fieldValue(r, words)
  if (r.options) return r.options.find((o) => o.raw === whole)?.means ?? null
  const decimals = decimalsOf(r, context)
  return decimals === undefined ? null : shiftDecimals(whole, decimals)
}

/** Names of the status bits that are set. */
export function decodeBits(r: Register, words: readonly number[]): string[] {
  const unsigned = joinWords(words, r.order)
  return (r.bits ?? []).filter((b) => Math.floor(unsigned / 2 ** b.bit) % 2 === 1).map((b) => b.name)
}

function wholeOf(text: string, decimals: number): Result<bigint, CodecFailure> {
  const [, sign = '', units = '0', fraction = ''] = /^(-?)(\d+)(?:\.(\d+))?$/.exec(text) ?? []
  const excess = fraction.slice(decimals)
  if (/[1-9]/.test(excess))
    return fail({
      kind: 'too-many-decimals',
      why: `${text} has more than the ${decimals} decimals that the register holds; round it first`,
    })
  const whole = BigInt(units + fraction.slice(0, decimals).padEnd(decimals, '0'))
  return ok(sign === '-' ? -whole : whole)
}

function range(r: Register): [bigint, bigint] {
  const bits = r.field?.width ?? 16 * wordCount(r.type)
  const isSigned = !r.field && (r.type === 'i16' || r.type === 'i32')
  return isSigned ? [-(2n ** BigInt(bits - 1)), 2n ** BigInt(bits - 1) - 1n] : [0n, 2n ** BigInt(bits) - 1n]
}

const toUnsigned = (value: bigint, bits: number) => Number(value < 0n ? value + 2n ** BigInt(bits) : value)

/**
 * Words that hold a decimal text or an option's meaning.
 * `current` are the words held now; needed where the register shares its words with other fields.
 * A float32 takes the nearest single; an integer is never rounded here: more decimals than it holds are refused.
 */
export function encode(
  r: Register,
  text: string,
  context: DecodeContext & { current?: readonly number[] | undefined } = {},
): Result<number[], CodecFailure> {
  if (r.options) {
    const found = r.options.find((o) => o.means === text)
    if (!found)
      return fail({
        kind: 'no-such-option',
        why: `it can be ${r.options.map((o) => o.means).join(', ')}; "${text}" is none of them`,
      })
    return place(r, BigInt(found.raw), context.current)
  }
  if (!/^-?\d+(\.\d+)?$/.test(text))
    return fail({ kind: 'not-a-number', why: `"${text}" is not a decimal number with a point, e.g. 2.0010` })
  const limited = withinLimits(r, text)
  if (!limited.ok) return limited
  if (r.type === 'f32') {
    const single = nearestFloat32(text)
    if (!Number.isFinite(single)) return fail({ kind: 'beyond-width', why: `${text} is beyond what a single float can hold` })
    return ok(splitWords(bitsFromFloat(single), r.order))
  }
  const decimals = decimalsOf(r, context)
  if (decimals === undefined) return fail({ kind: 'decimals-unknown', why: 'its decimals stand in another setting that has not been read' })
  const whole = wholeOf(text, decimals)
  if (!whole.ok) return whole
  const [low, high] = range(r)
  if (whole.value < low || whole.value > high)
    return fail({
      kind: 'beyond-width',
      why: `${text} does not fit ${r.type} with ${decimals} decimals: ${shiftDecimals(Number(low), decimals)} to ${shiftDecimals(Number(high), decimals)}`,
    })
  return place(r, whole.value, context.current)
}

function place(r: Register, value: bigint, current: readonly number[] | undefined): Result<number[], CodecFailure> {
  const bits = 16 * wordCount(r.type)
  if (!r.field) return ok(splitWords(toUnsigned(value, bits), r.order))
  const rest = BigInt(joinWords(current ?? new Array<number>(wordCount(r.type)).fill(0), r.order))
  const mask = (2n ** BigInt(r.field.width) - 1n) << BigInt(r.field.from)
  return ok(splitWords(Number((rest & ~mask) | ((value << BigInt(r.field.from)) & mask)), r.order))
}

function withinLimits(r: Register, text: string): Result<null, CodecFailure> {
  if (!r.limits) return ok(null)
  const value = Number(text)
  if (value < Number(r.limits.from) || value > Number(r.limits.to))
    return fail({
      kind: 'beyond-limits',
      why: `${text} is outside ${r.limits.from} to ${r.limits.to}, which is what the indicator accepts`,
    })
  return ok(null)
}
