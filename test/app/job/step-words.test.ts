import { describe, expect, it } from 'vitest'
import { editStep } from '../../../app/job/edit-step.ts'
import { certificate, type Job, type Point, point } from '../../../app/job/schema.ts'
import { stepWords } from '../../../app/job/step-words.ts'
import { practiceJob } from '../../../main/practice/practice-job.ts'
import { makeCertificate, makePoint } from '../../builders/weighing-point.ts'

/** What the undo of a changed field is called, before "of WT-101". */
const ofPoint: Record<string, string> = {
  tag: 'Tag',
  name: 'Name',
  indicatorId: 'Indicator',
  channel: 'Channel',
  unit: 'Unit',
  maximumLoad: 'Maximum load',
  scaleInterval: 'Scale interval',
  verificationInterval: 'Verification interval',
  scalingFrom: 'Source of the scaling',
  intended: 'Intended values',
  tolerance: 'Tolerance',
}
const inside: Record<string, Record<string, string>> = {
  loadPath: {
    sharePercent: 'Share of the load',
    shareSteps: 'Share of the load',
    deadLoad: 'Dead load',
    structure: 'Dead load',
    gravityHere: 'Gravity here',
    gravityFrom: 'Gravity here',
    pressure: 'Process connection',
    head: 'Head of fluid',
  },
  sensors: { trimmed: 'Trimming' },
  wiring: {
    wires: 'Number of wires',
    senseAt: 'Place where sense is joined',
    junctionBox: 'Junction box',
    cable: 'Cable to the indicator',
    sensorExtension: 'Extension of the sensor cables',
    ownCable: 'Cable of the sensor',
    temperature: 'Temperature of the cable',
    series: 'Resistances in series',
    leads: 'Lead colours',
    measuredOhms: 'Measured resistances',
  },
  measured: {
    zeroSignal: 'Measured zero',
    zeroExcitation: 'Measured zero',
    excitation: 'Measured excitation',
    loads: 'Measured loads',
    loadsFit: 'Fit of the measured loads',
    shunt: 'Measured shunt',
  },
}
const ofCertificate: Record<string, string> = {
  number: 'Certificate number',
  date: 'Certificate date',
  serial: 'Serial number',
  capacity: 'Capacity',
  ratedOutput: 'Rated output',
  zeroBalance: 'Zero balance',
  inputResistance: 'Input resistance',
  outputResistance: 'Output resistance',
  inputResistanceTolerance: 'Tolerance of the input resistance',
  outputResistanceTolerance: 'Tolerance of the output resistance',
  excitationRecommended: 'Recommended excitation',
  excitationMaximum: 'Maximum excitation',
  safeOverloadPercent: 'Safe overload',
  table: 'Calibration table',
  certifiedAt: 'Excitation of the certificate',
  gravity: 'Gravity behind the certificate',
}

const plain = makePoint({ measured: {} })
const jobWith = (p: unknown): Job => ({ ...practiceJob(), points: [p as Point] })
function undoOf(changed: Record<string, unknown>): string {
  const [before, after] = [jobWith(plain), jobWith({ ...plain, ...changed })]
  const step = editStep(before, after)
  if (!step) throw new Error('nothing was changed')
  return stepWords(step, before, after)
}
/** Only that it is another value matters to the words. */
const other = 'other'
const fieldsOf = (schema: { shape: object }) => Object.keys(schema.shape).sort()
const shapeOf = (field: 'loadPath' | 'sensors' | 'wiring') => point.shape[field]

describe('an edit that can be undone is named in words', () => {
  it.each(Object.entries(ofPoint))('%s of a point', (field, words) => {
    expect(undoOf({ [field]: field === 'intended' ? { 'filter.time@1': '1' } : other })).toMatch(new RegExp(`^${words} of `))
  })

  it.each(
    Object.entries(inside).flatMap(([within, names]) => Object.entries(names).map(([field, words]) => [within, field, words] as const)),
  )('%s %s of a point', (within, field, words) => {
    const held = plain[within as keyof Point] as object
    expect(undoOf({ [within]: { ...held, [field]: other } })).toBe(`${words} of WT-101`)
  })

  it.each(Object.entries(ofCertificate))('%s of a certificate', (field, words) => {
    expect(undoOf({ sensors: { ...plain.sensors, certificates: [{ ...makeCertificate(), [field]: other }] } })).toBe(`${words} of WT-101`)
  })

  it('no field is left without words', () => {
    const opened = [...Object.keys(inside), 'id']
    expect(fieldsOf(point).filter((field) => !opened.includes(field))).toEqual(Object.keys(ofPoint).sort())
    for (const field of ['loadPath', 'wiring'] as const) expect(fieldsOf(shapeOf(field))).toEqual(Object.keys(inside[field]!).sort())
    expect(fieldsOf(shapeOf('sensors'))).toEqual(['certificates', 'trimmed'])
    expect(fieldsOf(point.shape.measured.unwrap())).toEqual(Object.keys(inside['measured']!).sort())
    expect(fieldsOf(certificate)).toEqual(Object.keys(ofCertificate).sort())
  })

  it('gravity that is computed from latitude and height is one thing, named once', () => {
    const gravity = { gravityHere: { value: '9.81', unit: 'm/s²' }, gravityFrom: { latitude: '50', height: '0' } }
    expect(undoOf({ loadPath: { ...plain.loadPath, ...gravity } })).toBe('Gravity here of WT-101')
  })
})
