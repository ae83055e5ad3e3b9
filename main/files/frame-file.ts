import { mkdirSync, openSync } from 'node:fs'
import { join } from 'node:path'
import { fail, ok, type Result } from '../../app/result.ts'
import { hex } from '../bus/hex.ts'
import type { TappedFrame } from '../bus/request.ts'
import { csvLine } from './csv.ts'
import { describeDiskProblem } from './disk-problem.ts'
import { growingFile } from './growing-file.ts'

/** What a file of frames says of itself before its first frame. */
export type FrameFileHeader = {
  job: string
  bus: string
  busId: string
  link: 'rtu' | 'tcp'
  simulated: boolean
  by: string
  /** UTC instant of zero seconds. */
  anchor: string
  startedAt: string
}

export type FrameFile = {
  readonly name: string
  readonly frames: number
  /** Kept in memory until the next flush. */
  note(frame: TappedFrame): void
  /** Puts everything noted on the disk. After a failure the file is over. */
  flush(): Result<null, string>
  end(at: string): Result<null, string>
}

const shows = {
  rtu: 'whole frames with CRC; a received one has the time of its last byte',
  tcp: 'unit and PDU, without the header of Modbus TCP',
} as const

/** Starts a new file of frames in a folder; one that is there is not overwritten. */
export function startFrameFile(folder: string, header: FrameFileHeader): Result<FrameFile, string> {
  const stem = `${header.startedAt.replace(/[^0-9]/g, '').slice(0, 17)}-${header.busId}`
  let descriptor: number
  const name = `${stem}.csv`
  try {
    mkdirSync(folder, { recursive: true })
    descriptor = openSync(join(folder, name), 'ax')
  } catch (cause) {
    return fail(describeDiskProblem(cause))
  }
  const head = [
    ['frames of a bus', '1'],
    ['job', header.job],
    ['bus', header.bus],
    ['bus id', header.busId],
    ['shown', shows[header.link]],
    ['indicators', header.simulated ? 'simulated' : 'real'],
    ['saved by', header.by],
    ['zero seconds (UTC)', header.anchor],
    ['started', header.startedAt],
    ['seconds', 'direction', 'bytes', 'frame', 'note'],
  ]
  const growing = growingFile(descriptor, head.map(csvLine).join(''), 'The file of frames has ended.')
  const begun = growing.flush()
  if (!begun.ok) return begun
  return ok({
    name,
    get frames() {
      return growing.rows
    },
    note({ at, direction, bytes, note }) {
      growing.add([(at / 1000).toFixed(6), direction, String(bytes.length), hex(bytes, 1_000), note ?? ''])
    },
    flush: growing.flush,
    end: growing.end,
  })
}
