import { sentence } from '../sentence.ts'
import type { Change, EditStep } from './edit-step.ts'
import { sameValue } from './same-value.ts'
import type { Job } from './schema.ts'

/** Fields whose name alone does not say what they are. */
const named: Record<string, string> = {
  'certificate number': 'certificate number',
  'certificate date': 'certificate date',
  serial: 'serial number',
  table: 'calibration table',
  certifiedAt: 'excitation of the certificate',
  gravity: 'gravity behind the certificate',
  excitationRecommended: 'recommended excitation',
  excitationMaximum: 'maximum excitation',
  inputResistanceTolerance: 'tolerance of the input resistance',
  outputResistanceTolerance: 'tolerance of the output resistance',
  safeOverloadPercent: 'safe overload',
  sharePercent: 'share of the load',
  shareSteps: 'share of the load',
  structure: 'dead load',
  // Latitude and height are typed for nothing else.
  gravityFrom: 'gravity here',
  pressure: 'process connection',
  head: 'head of fluid',
  trimmed: 'trimming',
  wires: 'number of wires',
  senseAt: 'place where sense is joined',
  cable: 'cable to the indicator',
  sensorExtension: 'extension of the sensor cables',
  ownCable: 'cable of the sensor',
  temperature: 'temperature of the cable',
  series: 'resistances in series',
  leads: 'lead colours',
  measuredOhms: 'measured resistances',
  'measured loadsFit': 'fit of the measured loads',
  'measured shunt': 'measured shunt',
  indicatorId: 'indicator',
  busId: 'bus',
  profileId: 'profile',
  unit: 'unit',
  'indicator unit': 'address',
  intended: 'intended values',
  'measured zeroSignal': 'measured zero',
  'measured zeroExcitation': 'measured zero',
  'measured excitation': 'measured excitation',
  'measured loads': 'measured loads',
  scalingFrom: 'source of the scaling',
  link: 'connection',
  sealed: 'seal numbers',
}

const spaced = (name: string) => name.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
const isPlain = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value) && !('value' in value && 'unit' in value)

/** Names of what differs, as deep as a person would name it: a quantity, not its number; a certificate's field, not the certificate. */
function differing(name: string, before: unknown, after: unknown): string[] {
  if (sameValue(before, after)) return []
  if (name === 'certificates' && Array.isArray(before) && Array.isArray(after)) {
    if (before.length !== after.length) return ['sensors']
    return before.flatMap((one, i) => inside('certificate', one, after[i]))
  }
  const opened = ['sensors', 'loadPath', 'wiring', 'measured'].includes(name)
  return opened && isPlain(before) && isPlain(after) ? inside(name, before, after) : [named[name] ?? spaced(name)]
}

function inside(within: string, before: Record<string, unknown>, after: Record<string, unknown>): string[] {
  return [...new Set([...Object.keys(before), ...Object.keys(after)])].flatMap((key) =>
    differing(key, before[key], after[key]).map((found) => named[`${within} ${key}`] ?? found),
  )
}

const things = {
  buses: ['bus', 'buses'],
  indicators: ['indicator', 'indicators'],
  points: ['measuring point', 'measuring points'],
} as const

type Name = (change: Exclude<Change, { of: 'job' }>) => string

/** Name of a bus, indicator or point that a change speaks of, from whichever state still has it. */
const nameFrom =
  (...jobs: readonly Job[]): Name =>
  (change) => {
    for (const job of jobs) {
      if (change.of === 'points') {
        const point = job.points.find((p) => p.id === change.id)
        if (point) return point.tag
      } else {
        const item = job[change.of].find((i: { id: string }) => i.id === change.id)
        if (item) return item.name
      }
    }
    return change.id
  }

/** Nothing new and nothing otherwise: some of it is gone. */
const onlyLess = (before: unknown, after: unknown) =>
  isPlain(before) && isPlain(after) && Object.entries(after).every(([key, value]) => before[key] === value)

const isBroken = (sealed: unknown) => isPlain(sealed) && 'broken' in sealed

function wordsOf(change: Change, name: Name): string[] {
  if (change.of === 'job') return [sentence(`${change.field === 'decimalSign' ? 'decimal sign' : change.field} of the job`)]
  if ('field' in change) {
    const own = change.of === 'indicators' ? named[`indicator ${change.field}`] : undefined
    if (change.field === 'sealed' && isBroken(change.after)) return [`Seal of ${name(change)} broken`]
    if (change.field === 'intended' && onlyLess(change.before, change.after)) return [`Intended values of ${name(change)} taken back`]
    const fields = own ? [own] : differing(change.field, change.before, change.after)
    return [...new Set(fields)].map((field) => sentence(`${field} of ${name(change)}`))
  }
  return [sentence(`${things[change.of][0]} ${name(change)} ${change.after ? 'added' : 'removed'}`)]
}

/** One step in words, e.g. "Rated output of WT-101" or "Measuring point WT-102 added, and 3 more". */
export function stepWords(step: EditStep, before: Job, after: Job): string {
  const name = nameFrom(before, after)
  const words = [...new Set(step.changes.flatMap((change) => wordsOf(change, name)))]
  const [first = '', second, ...more] = words
  if (second === undefined) return first
  return more.length === 0 ? `${first}; ${second}` : `${first}, and ${words.length - 1} more`
}
