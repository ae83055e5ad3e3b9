import type { Handlers } from '../../app/contract/contract.ts'
import type { practiceCalls as contract } from '../../app/contract/practice-calls.ts'
import { ok } from '../../app/result.ts'
import { tellLoad } from './applied-load-calls.ts'
import { refuse } from './refusals.ts'
import { busOf, indicatorOf, pointOf, type World } from './world.ts'

type PracticeCalls = Pick<Handlers, keyof typeof contract>

const noBench = 'There is no practice bench: these are real indicators.'
const notOnBench = 'This point has no indicator on the bench.'
/** Asked for by the other master; the bench imagines a unit that it does not have. */
const othersUnit = 99

/** Hands on the simulated machine. What was done is told in the topic `practice`. */
export function practiceCalls(w: World): PracticeCalls {
  /** As typed, by unit and channel of the bench. */
  const typed = new Map<string, string>()
  const pulled = { buses: new Set<string>(), units: new Set<string>(), sensors: new Set<string>() }
  const off = new Set<string>()
  const since = w.clock.stamp()

  /** The key of a job's bus, or of its indicator, on the bench; undefined where the bench has no such thing. */
  const busKey = (busId: string) => {
    const link = busOf(w, busId)?.link
    return link?.kind === 'practice' && w.bench?.buses().some((b) => b.key === link.bus) ? link.bus : undefined
  }
  const keyAt = (bus: string | undefined, unit: number) => w.bench?.units().find((u) => u.bus === bus && u.unit === unit)?.key
  const unitKey = (indicatorId: string) => {
    const indicator = indicatorOf(w, indicatorId)
    return indicator && keyAt(busKey(indicator.busId), indicator.unit)
  }

  /** Where the sensors of a point hang on the bench. */
  const channelOf = (pointId: string) => {
    const point = pointOf(w, pointId)
    const key = point?.indicatorId === undefined ? undefined : unitKey(point.indicatorId)
    return point && key !== undefined ? { key, channel: point.channel, at: `${key}@${point.channel}` } : undefined
  }

  function show(): void {
    const { bench } = w
    if (!bench) return
    const buses = w.store.job.buses.flatMap(({ id }) => {
      const key = busKey(id)
      if (key === undefined) return []
      return [
        [
          id,
          { cable: !pulled.buses.has(key), adapter: bench.adapter(key), otherMasterEveryMs: bench.line(key).otherMaster?.everyMs ?? null },
        ],
      ]
    })
    const indicators = w.store.job.indicators.flatMap(({ id }) => {
      const key = unitKey(id)
      return key === undefined ? [] : [[id, { cable: !pulled.units.has(key), power: !off.has(key) }]]
    })
    w.topics.set('practice', undefined, {
      since,
      loads: Object.fromEntries(
        w.store.job.points.flatMap(({ id }) => {
          const load = typed.get(channelOf(id)?.at ?? '')
          return load === undefined ? [] : [[id, load]]
        }),
      ),
      buses: Object.fromEntries(buses),
      sensorsOut: w.store.job.points.flatMap(({ id }) => (pulled.sensors.has(channelOf(id)?.at ?? '') ? [id] : [])),
      indicators: Object.fromEntries(indicators),
    })
  }
  const noted = (set: Set<string>, key: string, absent: boolean) => {
    if (absent) set.add(key)
    else set.delete(key)
    show()
    return ok({})
  }
  show()
  w.topics.subscribe((message) => {
    if (message.kind === 'topic' && message.topic === 'job') show()
  })

  return {
    async 'practice.load'({ pointId, load }) {
      if (!w.bench) return refuse(noBench)
      const there = channelOf(pointId)
      if (!there) return refuse(notOnBench, 'pointId')
      w.bench.setLoad(there.key, there.channel, Number(load))
      typed.set(there.at, load)
      show()
      // Whoever puts it on knows it, as at a real machine.
      tellLoad(w, pointId, load)
      return ok({})
    },

    async 'practice.load-unit'({ busId, unit, channel, load }) {
      if (!w.bench) return refuse(noBench)
      const key = keyAt(busKey(busId), unit)
      if (key === undefined || !w.bench.loads().some((l) => l.indicator === key && l.channel === channel))
        return refuse('The bench has no such input at this address.', 'unit')
      w.bench.setLoad(key, channel, Number(load))
      typed.set(`${key}@${channel}`, load)
      show()
      return ok({})
    },

    async 'practice.look'() {
      const { bench } = w
      if (!bench) return refuse(noBench)
      const [units, loads] = [bench.units(), bench.loads()]
      return ok({
        units: w.store.job.buses.flatMap(({ id: busId }) =>
          units
            .filter((u) => u.bus === busKey(busId))
            .map(({ key, unit }) => ({
              busId,
              unit,
              indicatorId: w.store.job.indicators.find((i) => i.busId === busId && i.unit === unit)?.id ?? null,
              channels: loads
                .filter((l) => l.indicator === key)
                .map(({ channel, load, unit: loadUnit }) => {
                  const { text, unit: shown } = bench.display(key, channel)
                  return { channel, shows: text ?? null, unit: shown ?? null, load, loadUnit }
                }),
            })),
        ),
      })
    },

    async 'practice.cable'({ of, connected }) {
      const { bench } = w
      if (!bench) return refuse(noBench)
      if ('indicatorId' in of) {
        const key = unitKey(of.indicatorId)
        if (key === undefined) return refuse('The bench has no unit at this address.', 'of.indicatorId')
        bench[connected ? 'plugUnit' : 'pullUnit'](key)
        return noted(pulled.units, key, !connected)
      }
      if ('sensorsOf' in of) {
        const there = channelOf(of.sensorsOf)
        if (!there) return refuse(notOnBench, 'of.sensorsOf')
        bench[connected ? 'plugSensors' : 'pullSensors'](there.key, there.channel)
        return noted(pulled.sensors, there.at, !connected)
      }
      const key = busKey('busId' in of ? of.busId : of.adapterOf)
      if (key === undefined) return refuse('The bench has no such bus.', 'of')
      if ('busId' in of) {
        bench[connected ? 'plug' : 'pull'](key)
        return noted(pulled.buses, key, !connected)
      }
      if (bench.adapter(key) === null) return refuse('This bus has no adapter in the computer; pull its cable instead.', 'of.adapterOf')
      await bench[connected ? 'plugAdapter' : 'pullAdapter'](key)
      show()
      return ok({})
    },

    async 'practice.other-master'({ busId, everyMs }) {
      const { bench } = w
      if (!bench) return refuse(noBench)
      const key = busKey(busId)
      if (key === undefined) return refuse('The bench has no such bus.', 'busId')
      if (bench.buses().find((b) => b.key === key)?.framing === 'modbus-tcp')
        return refuse('A Modbus TCP connection has one master by itself; choose a serial line.', 'busId')
      const { otherMaster: _, ...line } = bench.line(key)
      bench.setLine(key, everyMs === null ? line : { ...line, otherMaster: { unit: othersUnit, everyMs } })
      show()
      return ok({})
    },

    async 'practice.power'({ indicatorId, power }) {
      const { bench } = w
      if (!bench) return refuse(noBench)
      const key = unitKey(indicatorId)
      if (key === undefined) return refuse('The bench has no unit at this address.', 'indicatorId')
      if (power === 'cycle') bench.powerCycle(key)
      else bench.power(key, power === 'on')
      return noted(off, key, power === 'off')
    },
  }
}
