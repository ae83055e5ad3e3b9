import { describe, expect, it } from 'vitest'
import { profileJsonSchema } from '../../../app/profile/json-schema.ts'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'

type Node = { properties: Record<string, Node>; items: Node; required: string[]; enum?: string[]; additionalProperties?: boolean }
const schema = profileJsonSchema() as unknown as Node & { $schema: string }

describe('the published JSON Schema of a profile', () => {
  it('says its draft, and lets no unknown key pass', () => {
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema')
    expect([schema.additionalProperties, schema.properties['registers']!.items.additionalProperties]).toEqual([false, false])
  })

  it('knows every key that the bundled profiles use, and demands what none can do without', () => {
    for (const p of bundledProfiles.values()) {
      expect(Object.keys(schema.properties)).toEqual(expect.arrayContaining(Object.keys(p)))
      for (const r of p.registers)
        expect(Object.keys(schema.properties['registers']!.items.properties)).toEqual(expect.arrayContaining(Object.keys(r)))
    }
    expect(schema.required).toEqual(expect.arrayContaining(['schema', 'id', 'registers', 'scaling', 'requests']))
    expect(schema.required).not.toContain('panel')
  })

  it('lists types and orders, and leaves what has a default to the writer', () => {
    const register = schema.properties['registers']!.items
    expect(register.properties['type']!.enum).toEqual(['u16', 'i16', 'u32', 'i32', 'f32'])
    expect(register.properties['order']!.enum).toEqual(['AB', 'BA', 'ABCD', 'CDAB', 'BADC', 'DCBA'])
    expect(register.required).not.toContain('readBack')
  })
})
