import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Place } from '../../app/contract/place.ts'
import { placeText, sameFormat } from '../../app/profile/bus-registers.ts'
import type { SerialFormat } from '../../app/profile/schema.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { OpenBus } from '../bus/open-bus.ts'
import { lineFormatOf, withLineFormat } from './line-format.ts'
import { busOf, indicatorOf, saveJob, type World } from './world.ts'

/** Takes a bus that was opened into use, and shows it as it goes on. */
export function attachBus(w: World, busId: string, opened: OpenBus): void {
  w.buses.set(busId, opened)
  const show = () => {
    if (w.buses.get(busId) === opened) showBus(w, busId)
  }
  opened.onChange(show)
  if (w.session.stopped) opened.stop()
  show()
}

/** Tells how an open bus is. Its indicators are counted by what is told of each, so that no two places tell different states. */
export function showBus(w: World, busId: string): void {
  const opened = w.buses.get(busId)
  if (!opened) return
  const readingsPerSecond = w.rateOn(busId)
  const told = w.store.job.indicators.filter((i) => i.busId === busId).map((i) => w.sessions.get(i.id)?.view().answering)
  w.topics.set('bus', busId, {
    ...opened.view(),
    answering: told.filter((answering) => answering === 'yes').length,
    silent: told.filter((answering) => typeof answering === 'object' && isSilence(answering)).length,
    ...(readingsPerSecond === undefined ? {} : { readingsPerSecond }),
  })
}

/** The unit, not the bus or the person at the screen, is why nothing came. */
const isSilence = ({ kind }: BusFailure) => kind !== 'stopped' && kind !== 'link-down' && kind !== 'other-master'

/** Where an indicator of the job is reached, by what the job says. */
export function placeOf(w: World, indicatorId: string): Place {
  const indicator = indicatorOf(w, indicatorId)
  const bus = indicator && busOf(w, indicator.busId)
  return { unit: indicator?.unit ?? 0, format: bus ? lineFormatOf(bus.link) : null }
}

/** Opens the bus of an indicator anew in another line format. */
export async function reformatBus(w: World, indicatorId: string, format: SerialFormat | null): Promise<Result<null, BusFailure>> {
  const bus = busOf(w, indicatorOf(w, indicatorId)?.busId ?? '')
  if (!bus || !w.buses.has(bus.id)) return fail({ kind: 'link-down', why: 'the bus is not open' })
  if (w.session.stopped) return fail({ kind: 'stopped' })
  await w.buses.get(bus.id)?.close()
  const opened = await w.openBus({ ...bus, link: withLineFormat(bus.link, format) })
  if (!opened.ok) return opened
  attachBus(w, bus.id, opened.value)
  return ok(null)
}

/** Why an indicator must not get this address or line format; null where it may. */
export function mayMove(w: World, indicatorId: string, from: Place, to: Place, lineFormat: boolean): string | null {
  const busId = indicatorOf(w, indicatorId)?.busId
  const others = w.store.job.indicators.filter((i) => i.busId === busId && i.id !== indicatorId)
  if (lineFormat && from.format === null)
    return 'Behind a Modbus TCP gateway the line has a format of its own, which this program cannot change along. Change it on the line itself, at a serial port.'
  if (lineFormat && others.length > 0)
    return `A bus has one line format, and on this one are also ${others.map((i) => i.name).join(', ')}: they would not be heard any more. Change the format of each while it is alone on a line, then open the bus in the new one.`
  const twin = from.unit === to.unit ? undefined : others.find((i) => i.unit === to.unit)
  return twin ? `${twin.name} has ${placeText({ unit: to.unit, format: null })} on this bus already. Choose one that is free.` : null
}

/** Keeps in the job where an indicator is reached from now on. */
export function settle(w: World, indicatorId: string, place: Place): Result<null, string> {
  const { unit, format } = placeOf(w, indicatorId)
  if (unit === place.unit && sameFormat(format, place.format)) return ok(null)
  const busId = indicatorOf(w, indicatorId)?.busId
  const saved = saveJob(w, (job) => ({
    ...job,
    indicators: job.indicators.map((i) => (i.id === indicatorId ? { ...i, unit: place.unit } : i)),
    buses: job.buses.map((b) => (b.id === busId ? { ...b, link: withLineFormat(b.link, place.format) } : b)),
  }))
  return saved.ok ? ok(null) : fail(saved.failure.why)
}
