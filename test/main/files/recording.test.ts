import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { chmodSync, existsSync, mkdtempSync, openSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { readRecording, recordTo, startRecording } from '../../../main/files/recording.ts'
import { recordingHeader as header, recordingSample as sample } from '../../builders/recording-header.ts'
import { unprivileged } from '../../builders/unprivileged.ts'

const folder = () => join(mkdtempSync(join(tmpdir(), 'spanwright-recording-')), 'recordings')

function started(path: string, change: Partial<typeof header> = {}) {
  const recording = startRecording(path, { ...header, ...change })
  if (!recording.ok) throw new Error(recording.failure)
  return recording.value
}

function read(path: string) {
  const found = readRecording(path)
  if (!found.ok) throw new Error(found.failure)
  return found.value
}

describe('recording', () => {
  it('says what it is, keeps the digits of the indicator, and names gaps', () => {
    const path = folder()
    const recording = started(path)
    recording.note(sample(1_234.5, '12.30'))
    recording.note(sample(1_300, null))
    recording.gap(1_400, 'No answer, "line" down')
    expect(recording.end('2026-11-25T10:01:00Z')).toEqual({ ok: true, value: null })
    const lines = readFileSync(join(path, recording.file), 'utf8').split('\n')
    expect(lines.slice(1, 8)).toEqual([
      'job,"Mill, ""north"""',
      'point,WT-101',
      'point id,wt-101',
      'unit,kg',
      'indicator,Panel A',
      'profile,two-pairs-float32-locked',
      'indicators,simulated',
    ])
    expect(lines).toContain('zero seconds (UTC),2026-11-25T10:00:00.000Z')
    expect(lines.slice(13)).toEqual([
      expect.stringMatching(/^1\.23[45],12\.30,,kg,-0\.00012,mV\/V,measured,motion net$/),
      '1.300,,,kg,-0.00012,mV/V,measured,motion net',
      '1.400,,,,,,none,"no reading: No answer, ""line"" down"',
      'ended,2026-11-25T10:01:00Z,3',
      '',
    ])
    expect(read(join(path, recording.file))).toMatchObject({ ended: true, samples: [{ reading: '12.30' }, { reading: null }, {}] })
  })

  it('is on the disk after each flush, and only then', () => {
    const path = folder()
    const recording = started(path)
    recording.note(sample(0, '1'))
    expect(read(join(path, recording.file)).samples).toHaveLength(0)
    recording.flush()
    expect(read(join(path, recording.file)).samples).toHaveLength(1)
    recording.end('')
    expect(recording.flush().ok).toBe(false)
  })

  it('goes on in a new file that names the one cut short; an ended one is not continued', () => {
    const path = folder()
    const first = started(path)
    first.note(sample(0, '1'))
    first.flush()
    const second = started(path)
    expect(second.file).not.toBe(first.file)
    expect(read(join(path, second.file)).header['continues']).toBe(first.file)
    second.end('')
    expect(read(join(path, started(path).file)).header['continues']).toBe('')
    expect(read(join(path, started(path, { pointId: 'other' }).file)).header['continues']).toBe('')
  })

  it('counts whole lines only, wherever it was cut', () => {
    const path = folder()
    const recording = started(path)
    for (let n = 0; n < 3; n++) recording.note(sample(n, '12.30'))
    recording.flush()
    const file = join(path, recording.file)
    const whole = readFileSync(file, 'utf8')
    const table = whole.indexOf('seconds,')
    for (let length = whole.length; length >= 0; length--) {
      truncateSync(file, length)
      const lines = whole.slice(table, length).split('\n').length - 2
      const found = readRecording(file)
      expect(found.ok ? found.value.samples.length : -1).toBe(length > table ? lines : -1)
    }
    writeFileSync(file, 'Tag;Max\n')
    expect(readRecording(file)).toMatchObject({ ok: false })
    expect(readRecording(`${file}.none`)).toMatchObject({ ok: false })
  })

  it('survives a kill: every sample before the last flush, none twice, none torn', async () => {
    const path = folder()
    const program = join(import.meta.dirname, '../../builders/endless-recorder.ts')
    for (let kill = 0; kill < 3; kill++) {
      const recorder = spawn(process.execPath, [program, path], { stdio: ['ignore', 'pipe', 'inherit'] })
      await once(recorder.stdout, 'data')
      recorder.kill('SIGKILL')
      await once(recorder, 'exit')
    }
    const files = readdirSync(path).sort((a, b) => a.length - b.length)
    expect(files).toHaveLength(3)
    for (const [i, file] of files.entries()) {
      const { samples, header: head, ended } = read(join(path, file))
      expect(samples.length).toBeGreaterThanOrEqual(98)
      expect(samples.map((s) => s.reading)).toEqual(samples.map((_, n) => String(n)))
      expect([ended, head['continues']]).toEqual([false, i === 0 ? '' : files[i - 1]])
    }
  }, 30_000)

  it.runIf(existsSync('/dev/full'))('says that the disk is full, and is over then', () => {
    const recording = recordTo(openSync('/dev/full', 'a'), 'full.csv', '')
    recording.note(sample(0, '1'))
    expect(recording.flush()).toEqual({ ok: false, failure: 'The disk is full.' })
    recording.note(sample(1, '2'))
    expect(recording.rows).toBe(1)
    expect(recording.end('')).toEqual({ ok: false, failure: 'The disk is full.' })
  })

  it('says that the folder cannot be written to', () => {
    const parent = mkdtempSync(join(tmpdir(), 'spanwright-recording-'))
    chmodSync(parent, 0o555)
    const refused = unprivileged(() => startRecording(join(parent, 'recordings'), header))
    expect(refused).toMatchObject({ ok: false, failure: expect.stringContaining('cannot be written') })
  })
})
