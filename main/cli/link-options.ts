import { type Command, InvalidArgumentError, Option } from 'commander'
import type { RealLink } from '../../app/job/schema.ts'
import type { SerialFormat } from '../../app/profile/schema.ts'
import { wholeNumber } from './numbers.ts'

/** A way to a line, before its format is known. */
export type Way = { kind: 'serial'; path: string } | { kind: 'rtu-over-tcp' | 'modbus-tcp'; host: string; port: number }
export type LinkOptions = { link: Way; baud?: number; parity?: SerialFormat['parity']; stopBits?: 1 | 2; json?: boolean }

const wayPattern = /^(rtu-over-tcp|modbus-tcp):(.+):(\d{1,5})$/

function way(text: string): Way {
  if (text.startsWith('serial:') && text.length > 'serial:'.length) return { kind: 'serial', path: text.slice('serial:'.length) }
  const [, kind, host, port] = wayPattern.exec(text) ?? []
  if (host !== undefined && Number(port) > 0 && Number(port) <= 65_535)
    return { kind: kind === 'modbus-tcp' ? 'modbus-tcp' : 'rtu-over-tcp', host, port: Number(port) }
  throw new InvalidArgumentError('One of these is needed: serial:PORT, modbus-tcp:HOST:PORT, rtu-over-tcp:HOST:PORT')
}

export const withLinkOptions = (command: Command): Command =>
  command
    .requiredOption('--link <way>', 'serial:PORT, modbus-tcp:HOST:PORT or rtu-over-tcp:HOST:PORT', way)
    .option('--baud <rate>', 'of the line', wholeNumber(300, 921_600))
    .addOption(new Option('--parity <which>', 'of the line').choices(['none', 'even', 'odd']))
    .addOption(new Option('--stop-bits <count>', 'of the line').choices(['1', '2']).argParser((text) => stopBits(text)))

function stopBits(text: string): 1 | 2 {
  if (text !== '1' && text !== '2') throw new InvalidArgumentError('1 or 2 is needed.')
  return text === '1' ? 1 : 2
}

/** 19,200 even 1 where nothing else is said. Source: MODBUS over Serial Line V1.02, 2.2 and 2.5.1. */
export const formatOf = ({ baud, parity, stopBits: bits }: LinkOptions): SerialFormat => ({
  baud: baud ?? 19_200,
  parity: parity ?? 'even',
  stopBits: bits ?? (parity === 'none' ? 2 : 1),
})

export const linkBy = (to: Way, format: SerialFormat): RealLink =>
  to.kind === 'modbus-tcp'
    ? { ...to, kind: 'modbus-tcp' }
    : to.kind === 'serial'
      ? { ...to, format }
      : { ...to, kind: 'rtu-over-tcp', format }
