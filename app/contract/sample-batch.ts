import { fail, ok, type Result } from '../result.ts'
import type { LiveSample } from './views.ts'

/** One live value as a page keeps it for its curves. `at` in monotonic milliseconds; NaN where there was no number. */
export type CurveSample = {
  pointId: string /** Of the reading; empty where none is known. */
  unit: string
  at: number
  reading: number
  signal: number
}
export const curveSample = ({ pointId, unit, at, reading, signal }: LiveSample): CurveSample => ({
  pointId,
  unit,
  at,
  reading: reading === null ? Number.NaN : Number(reading),
  signal: signal === null ? Number.NaN : Number(signal),
})

export type SampleBatch = { /** Counts up by one; the page names it when it has taken the batch. */ batch: number; samples: CurveSample[] }

/*
 * Little endian: form, batch, number of sources, number of samples (u32 each); every source as two texts, point id and unit, each as u16
 * length and that many UTF-16 units; then for every sample its source (u16), time, reading and signal (f64 each).
 */
const form = 2
const headBytes = 16
const sampleBytes = 2 + 3 * 8

/** Live samples as bytes: a hundredth of the parsing that the same numbers would need as text. */
export function encodeSamples(batch: number, samples: readonly CurveSample[]): Uint8Array<ArrayBuffer> {
  const sources = new Map<string, { index: number; texts: readonly string[] }>()
  const keyOf = ({ pointId, unit }: CurveSample) => `${pointId.length} ${pointId}${unit}`
  for (const sample of samples) {
    const key = keyOf(sample)
    if (!sources.has(key)) sources.set(key, { index: sources.size, texts: [sample.pointId, sample.unit] })
  }
  const texts = [...sources.values()].flatMap((source) => source.texts)
  const bytes = new Uint8Array(headBytes + texts.reduce((sum, text) => sum + 2 + 2 * text.length, 0) + samples.length * sampleBytes)
  const view = new DataView(bytes.buffer)
  for (const [i, number] of [form, batch, sources.size, samples.length].entries()) view.setUint32(4 * i, number, true)
  let at = headBytes
  for (const text of texts) {
    for (const [i, unit] of [text.length, ...text.split('').map((c) => c.charCodeAt(0))].entries()) view.setUint16(at + 2 * i, unit, true)
    at += 2 + 2 * text.length
  }
  for (const sample of samples) {
    view.setUint16(at, sources.get(keyOf(sample))?.index ?? 0, true)
    view.setFloat64(at + 2, sample.at, true)
    view.setFloat64(at + 10, sample.reading, true)
    view.setFloat64(at + 18, sample.signal, true)
    at += sampleBytes
  }
  return bytes
}

/** Refuses bytes that are no batch of this form, cut short or too long; says which. */
export function decodeSamples(bytes: Uint8Array): Result<SampleBatch, string> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  if (bytes.length < headBytes) return fail(`a batch of samples of ${bytes.length} bytes, shorter than its head`)
  const [found, batch, sources, count] = [0, 4, 8, 12].map((offset) => view.getUint32(offset, true)) as [number, number, number, number]
  if (found !== form) return fail(`a batch of samples of form ${found}; this page reads form ${form}`)
  const texts: string[] = []
  let at = headBytes
  for (let i = 0; i < 2 * sources; i += 1) {
    const length = at + 2 <= bytes.length ? view.getUint16(at, true) : bytes.length
    if (at + 2 + 2 * length > bytes.length) return fail('a batch of samples cut short in its points')
    texts.push(Array.from({ length }, (_, unit) => String.fromCharCode(view.getUint16(at + 2 + 2 * unit, true))).join(''))
    at += 2 + 2 * length
  }
  if (bytes.length - at !== count * sampleBytes)
    return fail(`a batch of samples with ${bytes.length - at} bytes where ${count} samples take ${count * sampleBytes}`)
  const samples: CurveSample[] = []
  for (; at < bytes.length; at += sampleBytes) {
    const source = 2 * view.getUint16(at, true)
    const [pointId, unit] = [texts[source], texts[source + 1]]
    if (pointId === undefined || unit === undefined) return fail('a batch of samples with a sample of no point')
    samples.push({
      pointId,
      unit,
      at: view.getFloat64(at + 2, true),
      reading: view.getFloat64(at + 10, true),
      signal: view.getFloat64(at + 18, true),
    })
  }
  return ok({ batch, samples })
}
