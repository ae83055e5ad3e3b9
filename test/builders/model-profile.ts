import { type Profile, profile, type Register } from '../../app/profile/schema.ts'
import { makeProfile } from './weighing-point.ts'

type Change = {
  type?: Register['type']
  decimals?: unknown
  unit?: unknown
  limits?: { from: string; to: string }
  access?: Register['access']
}

/** The bundled float32 profile with another scaling model: its scale registers give way to these, single floats unless said otherwise. */
export function makeModelProfile(
  scaling: Record<string, unknown>,
  scale: Record<string, Change>,
  input: Record<string, unknown> = {},
): Profile {
  const base = makeProfile({ input })
  const kept = base.registers.filter((r) => !r.name.startsWith('scale.'))
  const added = Object.entries(scale).map(([name, { type = 'f32', access = 'read-write', ...change }], i) => ({
    name,
    channel: 1,
    table: 'holding',
    address: 900 + 2 * i,
    type,
    order: type === 'u16' || type === 'i16' ? 'AB' : 'ABCD',
    access,
    role: 'setting',
    kept: 'at-once',
    evidence: 'invented',
    ...change,
  }))
  return profile.parse({
    ...base,
    scaling: { evidence: 'invented', ...scaling },
    registers: [...kept, ...added],
    dependencies: [],
    commands: {},
  })
}
