import { type Exact, exact, fromInteger, maximum as largest, zero } from '../../quantity/exact.ts'
import { fail, ok, type Result } from '../../result.ts'
import { signalOnCurve } from '../curve.ts'
import { channelRegister } from '../reading-settings.ts'
import { digitAround, type Held } from '../register-digits.ts'
import type { ScalingFailure } from '../scaling-failure.ts'
import {
  type FitContext,
  type HeldReader,
  hold,
  inOwnUnits,
  type OwnUnits,
  perMillivoltPerVolt,
  type ScalingModel,
  type Slot,
  signalUnitOf,
  slotOf,
} from '../scaling-model.ts'
import { costOf } from '../scaling-values.ts'

const names = (i: number) => ({ signal: `scale.table.${i}.signal`, reading: `scale.table.${i}.reading` })

type Row = { signal: Held; reading: Held; signalSlot: Slot; readingSlot: Slot }

/** Readings of the table: evenly from nought to maximum load, in whole scale intervals where there are enough of them. */
function readingsFor(pairs: number, own: OwnUnits, interval: Exact): Exact[] {
  const even = Array.from({ length: pairs }, (_, i) => own.maximum.mul(fromInteger(i)).div(fromInteger(pairs - 1)))
  const whole = even.map((reading, i) => (i === pairs - 1 ? reading : reading.div(interval).round().mul(interval)))
  return whole.every((reading, i) => i === 0 || reading.gt(whole[i - 1] ?? zero)) ? whole : even
}

/** Signal above that of the unloaded point, by the curve where the source has one. */
function signalAbove(c: FitContext, own: OwnUnits, perSignal: Exact, reading: Exact): Exact {
  if (!c.curve) return own.slope.mul(reading)
  const load = reading.div(own.perPointUnit)
  return signalOnCurve(c.curve, load).sub(signalOnCurve(c.curve, zero)).mul(perSignal)
}

function rowsFor(c: FitContext, own: OwnUnits, perSignal: Exact, pairs: number): Result<Row[], ScalingFailure> {
  const rows: Row[] = []
  for (const [i, wanted] of readingsFor(pairs, own, c.reading.scaleInterval).entries()) {
    const [signalSlot, readingSlot] = [slotOf(c, names(i + 1).signal), slotOf(c, names(i + 1).reading)]
    if (!signalSlot.ok) return signalSlot
    if (!readingSlot.ok) return readingSlot
    const reading = hold(readingSlot.value, wanted)
    if (!reading.ok) return reading
    const from = rows[0]?.signal.value ?? own.zeroSignal
    const signal = hold(signalSlot.value, from.add(signalAbove(c, own, perSignal, reading.value.value)))
    if (!signal.ok) return signal
    const before = rows.at(-1)
    if (before && (signal.value.value.lte(before.signal.value) || reading.value.value.lte(before.reading.value)))
      return fail({ kind: 'no-span-left', register: signalSlot.value.key })
    rows.push({ signal: signal.value, reading: reading.value, signalSlot: signalSlot.value, readingSlot: readingSlot.value })
  }
  return ok(rows)
}

/** A table of pairs, straight between them; the first at zero, the last at maximum load. All pairs of the indicator are filled, so that none is left over from before. */
export const pairTable: ScalingModel = {
  fit(c) {
    const model = c.profile.scaling
    if (model.model !== 'pair-table') return fail({ kind: 'model-not-computed', model: model.model })
    const signalUnit = signalUnitOf(c.profile, channelRegister(c.profile, names(1).signal, c.point.channel))
    const perSignal = perMillivoltPerVolt(c, signalUnit)
    if (!perSignal.ok) return perSignal
    const own = inOwnUnits(c, perSignal.value, signalUnit)
    if (!own.ok) return own
    const rows = rowsFor(c, own.value, perSignal.value, model.pairs)
    if (!rows.ok) return rows
    const [first, last, before] = [rows.value[0], rows.value.at(-1), rows.value.at(-2)]
    const second = rows.value[1]
    if (!first || !second || !last || !before) return fail({ kind: 'no-span-left', register: names(1).signal })
    const values: Record<string, string> = {}
    for (const row of rows.value) {
      values[row.signalSlot.key] = row.signal.text
      values[row.readingSlot.key] = row.reading.text
    }
    const count = channelRegister(c.profile, 'scale.table.count', c.point.channel)
    if (count?.access === 'read-write') {
      const slot = slotOf(c, 'scale.table.count')
      const held = slot.ok ? hold(slot.value, fromInteger(rows.value.length)) : slot
      if (!held.ok) return held
      if (slot.ok) values[slot.value.key] = held.value.text
    }
    const gain = (a: Row, b: Row) => b.reading.value.sub(a.reading.value).div(b.signal.value.sub(a.signal.value))
    const trueSignal = first.signal.value.add(signalAbove(c, own.value, perSignal.value, own.value.maximum))
    const shown = last.reading.value.add(trueSignal.sub(last.signal.value).mul(gain(before, last)))
    const halfDigits = rows.value.slice(1).map((row, i) => {
      const from = rows.value[i] ?? first
      return digitAround(row.signalSlot.digits, row.signal.value).div(fromInteger(2)).mul(gain(from, row))
    })
    const cost = (readingUnits: Exact) => costOf(c.line, own.value.perPointUnit, readingUnits)
    return ok({
      chosen: {
        lower: { signal: first.signal.text, reading: first.reading.text },
        upper: { signal: last.signal.text, reading: last.reading.text },
        signalUnit,
        readingUnit: c.reading.unit,
        values,
        rounding: {
          atMaximum: cost(shown.sub(own.value.maximum)),
          atMost: cost(largest(zero, ...halfDigits)),
          zeroShift: cost(own.value.zeroSignal.sub(first.signal.value).mul(gain(first, second))),
        },
      },
      alternatives: [],
    })
  },
  heldSpan(held) {
    const model = held.profile.scaling
    const pairs = heldPairs(held, model.model === 'pair-table' ? model.pairs : 0)
    const [first, last] = [pairs[0], pairs.at(-1)]
    if (!first || !last || pairs.length < 2) return fail({ kind: 'not-read', register: names(1).signal })
    return ok({
      signal: last.signal.sub(first.signal),
      signalUnit: signalUnitOf(held.profile, held.register(names(1).signal)),
      reading: last.reading.sub(first.reading),
      readingRegister: held.register(names(1).reading),
      through: pairs,
    })
  },
}

/** Pairs in use: as many as the indicator says, else up to the first that does not rise. */
function heldPairs(held: HeldReader, most: number): { signal: Exact; reading: Exact }[] {
  const said = held.text('scale.table.count')
  const count = said !== undefined && /^\d+$/.test(said) ? Math.min(Number(exact(said).valueOf()), most) : most
  const pairs: { signal: Exact; reading: Exact }[] = []
  for (let i = 1; i <= count; i++) {
    const [signal, reading] = [held.number(names(i).signal), held.number(names(i).reading)]
    if (!signal.ok || !reading.ok) break
    const before = pairs.at(-1)
    if (said === undefined && before && reading.value.lte(before.reading)) break
    pairs.push({ signal: signal.value, reading: reading.value })
  }
  return pairs
}
