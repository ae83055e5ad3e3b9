import type { Bus } from '../../app/job/schema.ts'
import type { SerialFormat } from '../../app/profile/schema.ts'

/** The practice line, until an indicator on it was given another format. */
export const practiceFormat: SerialFormat = { baud: 19_200, parity: 'even', stopBits: 1 }

/** Format of a line as we know it; null behind a Modbus TCP gateway, whose line is its own affair. */
export function lineFormatOf(link: Bus['link']): SerialFormat | null {
  switch (link.kind) {
    case 'serial':
    case 'rtu-over-tcp':
      return link.format
    case 'modbus-tcp':
      return null
    case 'practice':
      return link.framing === 'rtu' ? (link.format ?? practiceFormat) : null
  }
}

export const withLineFormat = (link: Bus['link'], format: SerialFormat | null): Bus['link'] =>
  format === null || link.kind === 'modbus-tcp' ? link : { ...link, format }
