import { existsSync, mkdirSync, openSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import papa from 'papaparse'
import type { LiveSample } from '../../app/contract/views.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import { csvLine } from './csv.ts'
import { describeDiskProblem } from './disk-problem.ts'
import { growingFile } from './growing-file.ts'

/** What a recording says of itself before its first sample. */
export type RecordingHeader = {
  job: string
  point: string
  pointId: string
  unit: string
  indicator: string
  profile: string
  simulated: boolean
  by: string
  /** UTC instant of zero seconds. */
  anchor: string
  startedAt: string
}

export type Recording = {
  readonly file: string
  readonly rows: number
  /** Kept in memory until the next flush. */
  note(sample: LiveSample): void
  /** No reading from here on, and why. */
  gap(at: number, why: string): void
  /** Puts everything noted on the disk. After a failure the recording is over. */
  flush(): Result<null, string>
  /** Flushes and ends the file. */
  end(at: string): Result<null, string>
}

const columns = ['seconds', 'reading', 'gross', 'unit', 'signal', 'signal unit', 'signal origin', 'status']
const title = 'recording of live samples'

/** Starts a new file; it names the one before it where that was never ended (the host was killed, or the disk was full). */
export function startRecording(folder: string, header: RecordingHeader): Result<Recording, string> {
  try {
    mkdirSync(folder, { recursive: true })
    const before = unended(folder, header.pointId)
    const file = freeName(folder, `${header.startedAt.replace(/[^0-9]/g, '').slice(0, 14)}-${header.pointId}`)
    const descriptor = openSync(join(folder, file), 'ax')
    const head = [
      [title, '1'],
      ['job', header.job],
      ['point', header.point],
      ['point id', header.pointId],
      ['unit', header.unit],
      ['indicator', header.indicator],
      ['profile', header.profile],
      ['indicators', header.simulated ? 'simulated' : 'real'],
      ['recorded by', header.by],
      ['zero seconds (UTC)', header.anchor],
      ['started', header.startedAt],
      ['continues', before ?? ''],
      columns,
    ]
    const recording = recordTo(descriptor, file, head.map(csvLine).join(''))
    const begun = recording.flush()
    return begun.ok ? ok(recording) : begun
  } catch (cause) {
    return fail(describeDiskProblem(cause))
  }
}

/** A recording on a file that is open for appending, beginning with `head`. */
export function recordTo(descriptor: number, file: string, head: string): Recording {
  const growing = growingFile(descriptor, head, 'The recording has ended.')
  return {
    file,
    get rows() {
      return growing.rows
    },
    note: (s) =>
      growing.add([
        seconds(s.at),
        s.reading ?? '',
        s.gross ?? '',
        s.unit,
        s.signal ?? '',
        s.signalUnit,
        s.signalOrigin,
        s.status.join(' '),
      ]),
    gap: (at, why) => growing.add([seconds(at), '', '', '', '', '', 'none', `no reading: ${why}`]),
    flush: growing.flush,
    end: growing.end,
  }
}

const seconds = (at: number) => (at / 1000).toFixed(3)

function freeName(folder: string, stem: string): string {
  for (let n = 1; ; n++) {
    const name = n === 1 ? `${stem}.csv` : `${stem}-${n}.csv`
    if (!existsSync(join(folder, name))) return name
  }
}

/** The newest recording of a point, if it was never ended. */
function unended(folder: string, pointId: string): string | null {
  const ofPoint = new RegExp(`^\\d{14}-${pointId}(-\\d+)?\\.csv$`)
  const mine = readdirSync(folder, { withFileTypes: true }).flatMap((e) => (e.isFile() && ofPoint.test(e.name) ? [e.name] : []))
  const newest = mine.sort((a, b) => order(a) - order(b) || a.length - b.length || (a < b ? -1 : 1)).at(-1)
  if (newest === undefined) return null
  const read = readRecording(join(folder, newest))
  return read.ok && read.value.ended ? null : newest
}
const order = (name: string) => Number(name.slice(0, 14))

export type ReadRecording = {
  header: Record<string, string>
  samples: { seconds: number; reading: string | null; status: string }[]
  /** False where it was cut short: what stands before counts. */
  ended: boolean
}

/** Reads a recording; a last line without its end, as a kill leaves it, does not count. */
export function readRecording(path: string): Result<ReadRecording, string> {
  let text: string
  try {
    text = readFileSync(path, 'utf8')
  } catch (cause) {
    return fail(describeDiskProblem(cause))
  }
  const whole = text.slice(0, text.lastIndexOf('\n') + 1)
  const rows = papa.parse<string[]>(whole, { delimiter: ',', newline: '\n', skipEmptyLines: true }).data
  const start = rows.findIndex((row) => row.join() === columns.join())
  if (rows[0]?.[0] !== title || start < 0) return fail('This is no recording, or it was cut short before its first sample.')
  const header = Object.fromEntries(rows.slice(0, start).map(([name = '', value = '']) => [name, value]))
  const samples: ReadRecording['samples'] = []
  let ended = false
  for (const row of rows.slice(start + 1)) {
    if (row[0] === 'ended') ended = true
    else if (row.length === columns.length && /^-?\d+\.\d{3}$/.test(row[0] ?? ''))
      samples.push({ seconds: Number(row[0]), reading: row[1] || null, status: row[7] ?? '' })
  }
  return ok({ header, samples, ended })
}
