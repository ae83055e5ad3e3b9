import type { Profile } from '../../app/profile/schema.ts'
import type { BenchPoint } from '../description.ts'
import { bridgeSignal, shuntStep } from '../physics/bridge.ts'
import { inputStage } from '../physics/input-stage.ts'
import type { Layout, Place } from './layout.ts'
import { decimalsOf, optionOf, unitOf, valueAt, type Words } from './memory.ts'
import { readingBy, roundedTo } from './scaling.ts'

/** What one channel shows at one moment; live registers are encoded from it. */
export type Live = {
  signalMvPerV: number
  gross: number
  tare: number
  reading: number
  interval: number
  over: boolean
  under: boolean
  fault: boolean
  motion: boolean
  net: boolean
  atZero: boolean
  shunted: boolean
}

export type Channel = {
  readonly number: number
  readonly point: BenchPoint
  load(): number
  setLoad(load: number, nowMs: number): void
  /** Takes the sensors' cable off the terminals, or puts it back. */
  connect(connected: boolean, nowMs: number): void
  /** Carries the input on to this time; called before anything changes that the input depends on. */
  advance(nowMs: number): void
  live(): Live
  /** The signal in the unit in which a register holds it; converter counts where the profile scales counts. */
  signalFor(place: Place): number
  zero(): void
  tare(): void
  clearTare(): void
  /** Takes back zero and tare, as a newly learned scaling does. */
  forgetZero(): void
  /** Connects or disconnects the shunt of the bench point. */
  shunt(on: boolean): void
  /** Unit beside the reading on the display, where the profile knows one. */
  unitShown(): string | undefined
  /** Decimals of the reading on the display. */
  decimalsShown(): number
  /** Starts again as at power-up. */
  restart(nowMs: number): void
}

type Parts = {
  profile: Profile
  layout: Layout
  point: BenchPoint
  seed: number
  /** Words that are in force for a register: present, saved or those of the last power-up, as the register says. */
  inForce: (place: Place) => Words
}

/** Open signal terminals are pulled to the limit of the input. Common practice, no source. */
const openInput = Number.POSITIVE_INFINITY
const quantity = /^(-?\d+(?:\.\d+)?)\s*(\S*)$/
const defaultRateHz = 100
const defaultExcitationVolt = 5
/** Common practice, no source. */
const defaultRangeMvPerV = 4

export const startChannel = ({ profile, layout, point, seed, inForce }: Parts, startMs: number): Channel => {
  const places = new Map<string, Place>()
  for (const place of layout.places) {
    const { name, channel } = place.register
    if (channel === point.channel || (channel === undefined && !places.has(name))) places.set(name, place)
  }

  /** Number and unit that a register stands for, by its option's meaning or by its value. */
  const quantityOf = (name: string): { value: number; unit: string } | undefined => {
    const place = places.get(name)
    if (place === undefined) return undefined
    const words = inForce(place)
    if (!place.register.options) return { value: valueAt(words, layout, place), unit: unitOf(words, layout, place) ?? '' }
    const found = quantity.exec(optionOf(words, place) ?? '')
    return found ? { value: Number(found[1]), unit: found[2] ?? '' } : undefined
  }

  const quantityText = (name: string): string | undefined => {
    const place = places.get(name)
    return place && optionOf(inForce(place), place)
  }

  const excitationVolt = (): number => {
    const found = quantityOf('excitation.voltage')
    if (found === undefined) return point.excitationVolt ?? defaultExcitationVolt
    return found.unit === 'mV' ? found.value / 1000 : found.value
  }

  const rangeMvPerV = (): number => {
    const found = quantityOf('input.range')
    if (found === undefined) return defaultRangeMvPerV
    return found.unit === 'mV' ? found.value / excitationVolt() : found.value
  }

  const filterSeconds = (): number => {
    const time = quantityOf('filter.time')
    if (time !== undefined) return time.unit === 'ms' ? time.value / 1000 : time.value
    const cutoff = quantityOf('filter.cutoff')
    return cutoff !== undefined && cutoff.value > 0 ? 1 / (2 * Math.PI * cutoff.value) : 0
  }

  const rateHz = Number(profile.input?.converterRateHz ?? defaultRateHz)
  let applied = 0
  let connected = true
  let input = inputStage({ seed, startMs, rateHz })
  let zeroOffset = 0
  let tared: number | undefined
  let shunted = false

  const holdsCounts = ({ register }: Place): boolean => profile.scaling.model === 'counts' && register.name !== 'live.signal'

  const converted = (signalMvPerV: number, place: Place): number => {
    const unit = place.register.name === 'scale.slope' ? undefined : unitOf(inForce(place), layout, place)
    switch (unit ?? (holdsCounts(place) ? 'counts' : profile.input?.signalUnit)) {
      case 'counts':
        return profile.scaling.model === 'counts' ? Math.round((signalMvPerV / rangeMvPerV()) * profile.scaling.countsAtFullRange) : 0
      case 'uV/V':
        return signalMvPerV * 1000
      case 'V':
        return (signalMvPerV * excitationVolt()) / 1000
      case 'mV':
        return signalMvPerV * excitationVolt()
      case 'uV':
        return signalMvPerV * excitationVolt() * 1000
      default:
        return signalMvPerV
    }
  }

  /** Reading before zero and tare, unrounded; undefined where the scaling values make no line. */
  const scaled = (signalMvPerV: number): number | undefined =>
    readingBy(profile.scaling, {
      has: (name) => places.has(name),
      value(name) {
        const place = places.get(name)
        return place && valueAt(inForce(place), layout, place)
      },
      signalAs(name) {
        const place = places.get(name)
        return place ? converted(signalMvPerV, place) : 0
      },
    })

  /** Options without any decimals beside a register of decimals count steps of the last digit shown. */
  const readingInterval = (): number => {
    const found = quantityOf('reading.interval')?.value ?? 0
    const [chooser, decimals] = [places.get('reading.interval'), places.get('reading.decimals')]
    const inDigits = chooser?.register.options?.every(({ means }) => !means.includes('.')) && decimals !== undefined
    return inDigits ? found / 10 ** (quantityOf('reading.decimals')?.value ?? 0) : found
  }

  const live = (): Live => {
    const state = input.state()
    const unzeroed = scaled(state.signalMvPerV)
    const top = scaled(state.signalMvPerV + state.spreadMvPerV)
    const gross = (unzeroed ?? 0) - zeroOffset
    const interval = readingInterval()
    const spread = unzeroed === undefined || top === undefined ? 0 : Math.abs(top - unzeroed)
    return {
      signalMvPerV: state.signalMvPerV,
      gross: roundedTo(interval, gross),
      tare: roundedTo(interval, tared ?? 0),
      reading: roundedTo(interval, gross - (tared ?? 0)),
      interval,
      over: state.over,
      under: state.under,
      fault: unzeroed === undefined,
      motion: interval > 0 && spread > 2 * interval,
      net: tared !== undefined,
      atZero: Math.abs(gross) <= interval / 4,
      shunted,
    }
  }

  const grossNow = (): number => (scaled(input.state().signalMvPerV) ?? 0) - zeroOffset

  const channel: Channel = {
    number: point.channel,
    point,
    load: () => applied,
    setLoad(load, nowMs) {
      channel.advance(nowMs)
      applied = load
    },
    connect(now, nowMs) {
      channel.advance(nowMs)
      connected = now
    },
    advance: (nowMs) =>
      input.advance(nowMs, {
        signalMvPerV: connected
          ? bridgeSignal(point, applied) + (shunted && point.shunt ? shuntStep(point.shunt, point.sensors.length) : 0)
          : openInput,
        noiseMicrovolt: point.noiseMicrovolt,
        excitationVolt: excitationVolt(),
        rangeMvPerV: rangeMvPerV(),
        filterSeconds: filterSeconds(),
      }),
    live,
    signalFor: (place) => converted(input.state().signalMvPerV, place),
    zero() {
      zeroOffset += grossNow()
      tared = undefined
    },
    tare() {
      tared = grossNow()
    },
    clearTare() {
      tared = undefined
    },
    restart(nowMs) {
      input = inputStage({ seed, startMs: nowMs, rateHz })
      channel.forgetZero()
      shunted = false
    },
    forgetZero() {
      zeroOffset = 0
      tared = undefined
    },
    shunt(on) {
      shunted = on
    },
    decimalsShown: () => {
      const place = places.get('live.reading')
      if (place && place.register.type !== 'f32') return decimalsOf(inForce(place), layout, place)
      return quantityOf('reading.decimals')?.value ?? (String(readingInterval()).split('.')[1] ?? '').length
    },
    unitShown: () => {
      const place = places.get('live.reading') ?? places.get('scale.upper.reading') ?? places.get('scale.capacity')
      return (place && unitOf(inForce(place), layout, place)) ?? quantityText('reading.unit')
    },
  }
  channel.advance(startMs)
  return channel
}
