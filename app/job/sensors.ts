import type { Certificate } from './schema.ts'

/** Most sensors of one point. */
export const mostSensors = 16

/** A sensor of which nothing is stated. */
const unstated: Certificate = { number: '', date: '', serial: '', gravity: 'not-stated' }

/** What is common to a model of sensor; what a certificate states of one sensor (number, date, serial, outputs, table) is left out. */
export function ofTheModel(certificate: Certificate): Certificate {
  const { ratedOutput: _output, zeroBalance: _zero, table: _table, certifiedAt: _at, ...model } = certificate
  return { ...model, number: '', date: '', serial: '' }
}

/** So many sensors: those that are more are of the model of the last one, and state nothing where there is none. */
export function resized(certificates: readonly Certificate[], count: number): Certificate[] {
  const last = certificates.at(-1)
  const more = Math.max(0, count - certificates.length)
  return [...certificates.slice(0, count), ...Array.from({ length: more }, () => (last ? ofTheModel(last) : unstated))]
}
