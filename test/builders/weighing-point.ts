import { type Certificate, certificate, type Point, point } from '../../app/job/schema.ts'
import { type Profile, profile, type Register } from '../../app/profile/schema.ts'
import rawProfile from '../../app/profiles/two-pairs-float32-locked.profile.json' with { type: 'json' }

export const kilograms = (value: string) => ({ value, unit: 'kg' as const })
export const mvPerV = (value: string) => ({ value, unit: 'mV/V' as const })

/** Certificate of a 500 kg sensor with 2.0015 mV/V; `change` replaces whole fields, undefined leaves one out. */
export function makeCertificate(change: { [K in keyof Certificate]?: Certificate[K] | undefined } = {}): Certificate {
  const fields = {
    number: '',
    date: '',
    serial: 'A1',
    capacity: kilograms('500'),
    ratedOutput: mvPerV('2.0015'),
    zeroBalance: mvPerV('0'),
    ...change,
  }
  return certificate.parse(Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)))
}

/** A weighing point on one sensor, 0 to 500 kg in steps of 0.1 kg, no dead load. */
export function makePoint(change: Record<string, unknown> = {}, certificates: Certificate[] = [makeCertificate()]): Point {
  return point.parse({
    id: 'p1',
    tag: 'WT-101',
    name: '',
    unit: 'kg',
    maximumLoad: '500',
    scaleInterval: '0.1',
    loadPath: { deadLoad: kilograms('0') },
    sensors: { certificates, trimmed: false },
    wiring: {},
    intended: {},
    ...change,
  })
}

/** The bundled float32 profile, or a variant of it with some registers changed. */
export function makeProfile(
  change: { scaling?: unknown; input?: Record<string, unknown>; registers?: (r: Register) => Record<string, unknown> | null } = {},
): Profile {
  const base = profile.parse(rawProfile)
  return profile.parse({
    ...base,
    ...(change.scaling ? { scaling: change.scaling } : {}),
    input: { ...base.input, ...change.input },
    registers: base.registers.flatMap((r) => {
      const changed = change.registers ? change.registers(r) : {}
      return changed === null ? [] : [{ ...r, ...changed }]
    }),
  })
}

/** Signals as whole numbers with so many decimals, readings with those of the reading. */
export const makeDigitsProfile = (signalDecimals: number, pairAboveMaximum = false): Profile =>
  makeProfile({
    scaling: { model: 'two-pairs', pairAboveMaximum, evidence: 'invented' },
    registers: (r) =>
      r.name.startsWith('scale.')
        ? { type: 'i32', decimals: r.name.endsWith('signal') ? signalDecimals : { register: 'reading.decimals' } }
        : {},
  })
