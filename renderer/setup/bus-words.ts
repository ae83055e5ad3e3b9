import type { BusView } from '../../app/contract/views.ts'
import type { Bus } from '../../app/job/schema.ts'
import type { SerialFormat } from '../../app/profile/schema.ts'
import type { DecimalSign } from '../../app/quantity/format.ts'
import { clockText, fixedText } from '../figures/number-text.ts'

export const busStateWords: Record<BusView['state'], string> = {
  closed: 'closed',
  opening: 'opening',
  listening: 'listening first',
  open: 'open',
  down: 'down',
  halted: 'halted',
}

/** When another master was last heard; asked again, that it still is. `anchor` is the UTC instant of monotonic zero. */
export function heardText({ state, otherMaster }: BusView, anchor: string): string | null {
  if (!otherMaster) return null
  const at = clockText(new Date(Date.parse(anchor) + otherMaster.at))
  if (state === 'listening') return `Listening before anything is sent; another master was heard at ${at}.`
  return otherMaster.again ? `Listened again: it was still heard at ${at}; sending stays halted.` : `It was heard at ${at}.`
}

export const formatText = ({ baud, parity, stopBits }: SerialFormat) => `${baud} ${parity} ${stopBits}`

/** By which way a bus is reached, in one line. */
export function wayText({ link }: Bus): string {
  switch (link.kind) {
    case 'serial':
      return `serial line ${link.path}, ${formatText(link.format)}`
    case 'modbus-tcp':
      return `Modbus TCP, ${link.host}:${link.port}`
    case 'rtu-over-tcp':
      return `RTU over TCP, ${link.host}:${link.port}, ${formatText(link.format)}`
    case 'practice':
      return `practice bench, ${link.framing === 'rtu' ? 'serial line' : 'Modbus TCP'}`
  }
}

export const isSerial = ({ link }: Bus) => link.kind !== 'modbus-tcp' && !(link.kind === 'practice' && link.framing === 'modbus-tcp')

export const answerText = (view: BusView | undefined, sign: DecimalSign) =>
  view?.answerMs === undefined ? 'not measured' : `${fixedText(view.answerMs, 1, sign)} ms`

/** Readings a second and indicator: what the line gives now, as fast as it is asked, which is what can be had. */
export const rateText = (view: BusView | undefined, sign: DecimalSign) =>
  view?.readingsPerSecond === undefined ? 'not measured' : fixedText(view.readingsPerSecond, 1, sign)
