import type { Point } from '../../app/job/schema.ts'
import { encode } from '../../app/profile/codec.ts'
import { panelOf, withPanel } from '../../app/profile/panel.ts'
import type { Profile } from '../../app/profile/schema.ts'
import { decimalsFrom, encodeIntended, findRegister } from '../../app/profile/settings.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { proposeScaling, type ScalingProposal } from '../../app/scaling/propose-scaling.ts'
import { explainScalingFailure } from '../../app/scaling/scaling-failure.ts'
import { certificate, weighing } from './practice-job.ts'

/** What hangs on each channel of a single bench: an invented sensor of 2 mV/V. */
export type SingleSensor = { capacity: number; unit: Point['unit']; ratedOutputMvPerV: number; zeroMvPerV: number }

const sensorOf = (capacity: number, unit: Point['unit']): SingleSensor => ({ capacity, unit, ratedOutputMvPerV: 2, zeroMvPerV: 0.01 })

/** In this order: most indicators weigh; one that shows force or pressure alone is scaled for that. */
export const singleSensors = [sensorOf(1000, 'kg'), sensorOf(10, 'kN'), sensorOf(250, 'bar')] as const

/** Shares of capacity that indicators take for scale interval, the finest first. */
const intervals = [0.0002, 0.001, 0.01]

type Scaled = { sensor: SingleSensor; words: Record<string, number[]> }

/** Saved words, by register key, of an indicator that somebody has scaled for one of these sensors on each channel; or why it cannot be. */
export function scaledStart(profile: Profile): Result<Scaled, string> {
  let first: string | undefined
  for (const sensor of singleSensors)
    for (const interval of intervals) {
      const words = wordsFor(profile, sensor, interval * sensor.capacity)
      if (words.ok) return ok({ sensor, words: words.value })
      first ??= words.failure
    }
  return fail(first ?? '')
}

function wordsFor(profile: Profile, sensor: SingleSensor, interval: number): Result<Record<string, number[]>, string> {
  const all: Record<string, number[]> = {}
  for (let channel = 1; channel <= profile.channels; channel++) {
    const point = pointWith(sensor, interval, channel)
    const proposal = proposeScaling(point, profile, { excitation: { value: '5', unit: 'V' } })
    if (!proposal.ok) return fail(explainScalingFailure(proposal.failure))
    const whole = withPanel(profile, panelOf(profile, channel, interval < 1 ? 1 : 0))
    const typed = proposal.value.entries?.list.flatMap(({ key, type }) => (type === null ? [] : [[key, type] as const])) ?? []
    const encoded = encodeIntended(whole, { ...proposal.value.intended, ...Object.fromEntries(typed) }, { at: '', values: {} })
    if (!encoded.ok) return fail(encoded.failure.why)
    const captured = capturedWords(profile, channel, proposal.value, encoded.value)
    if (!captured.ok) return captured
    Object.assign(all, Object.fromEntries([...encoded.value, ...captured.value]))
  }
  return ok(all)
}

const pointWith = ({ capacity, unit, ratedOutputMvPerV, zeroMvPerV }: SingleSensor, interval: number, channel: number): Point => {
  const { loadPath: _, ...point } = weighing({
    id: 'single',
    tag: 'SINGLE',
    name: '',
    maximumLoad: String(capacity),
    scaleInterval: String(interval),
    deadLoad: '0',
    certificates: [
      certificate({
        serial: 'invented',
        capacity: [String(capacity), unit],
        ratedOutput: String(ratedOutputMvPerV),
        zeroBalance: String(zeroMvPerV),
      }),
    ],
    tolerance: String(interval),
    channel,
  })
  return { ...point, unit, loadPath: { sharePercent: '100' } }
}

/** What an indicator that learns its loads would have kept, had they been put on and commanded. */
function capturedWords(
  profile: Profile,
  channel: number,
  { captures = [] }: ScalingProposal,
  words: ReadonlyMap<string, number[]>,
): Result<[string, number[]][], string> {
  const kept: [string, number[]][] = []
  for (const { command, expectSignal, apply } of captures) {
    const end = command === 'capture-lower' ? 'lower' : 'upper'
    for (const [what, text] of [
      ['signal', expectSignal],
      ['reading', apply],
    ] as const) {
      const key = `scale.${end}.${what}@${channel}`
      const register = findRegister(profile, key)
      if (!register) continue
      const held = encode(register, text, { decimals: decimalsFrom(profile, register, (of) => words.get(of)) })
      if (!held.ok) return fail(`${key}: ${held.failure.why}`)
      kept.push([key, held.value])
    }
  }
  return ok(kept)
}
