import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { IdentityView } from '../../app/contract/views.ts'
import { type Register, registerKey } from '../../app/profile/schema.ts'
import { findRegister, interpret } from '../../app/profile/settings.ts'
import { joinWords } from '../../app/profile/words.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { UnitIo } from './unit-io.ts'

/**
 * Is this unit the model that the profile describes? Reads the profile's tests and nothing else.
 * confirmed: every test agrees and there is at least one. contradicted: one proves another model.
 * cannot tell: no test, or one that differs without proving anything; the user compares three values with the panel.
 */
export async function identify(io: UnitIo): Promise<Result<IdentityView, BusFailure>> {
  const { tests, compareWithPanel } = io.profile.identity
  const wanted = [...new Set([...tests.map((t) => t.register), ...compareWithPanel])]
  const registers = wanted.flatMap((name) => byName(io, name))
  const read = await io.read(registers, 'user')
  if (!read.ok) {
    // A unit that has no such register is another model as far as anyone can tell.
    if (read.failure.kind === 'refused' && read.failure.code === 2) return ok(refusedIdentity(io))
    return fail(read.failure)
  }
  const values = interpret(io.profile, read.value.words)
  const results = tests.map((test) => {
    const register = byName(io, test.register)[0]
    const words = register && read.value.words.get(registerKey(register))
    const got = register && words ? joinWords(words, register.order) : undefined
    const accepted = test.equals !== undefined ? [test.equals] : (test.oneOf ?? [])
    return {
      register: test.register,
      expected: accepted.join(' or '),
      got: got === undefined ? 'not read' : String(got),
      agrees: got !== undefined && accepted.includes(got),
      otherwise: test.otherwise,
    }
  })
  const outcome = results.some((r) => !r.agrees && r.otherwise === 'contradicted')
    ? 'contradicted'
    : results.length > 0 && results.every((r) => r.agrees)
      ? 'confirmed'
      : 'cannot-tell'
  return ok({
    outcome,
    tests: results.map(({ otherwise: _, ...shown }) => shown),
    compareWithPanel: compareWithPanel.map((name) => {
      const register = byName(io, name)[0]
      return { register: name, value: (register && values[registerKey(register)]?.value) ?? 'no number' }
    }),
  })
}

const byName = (io: UnitIo, name: string): Register[] => {
  const key = io.profile.registers.find((r) => r.name === name)
  const found = key && findRegister(io.profile, registerKey(key))
  return found ? [found] : []
}

function refusedIdentity(io: UnitIo): IdentityView {
  const shown = io.profile.identity.tests.map((t) => ({
    register: t.register,
    expected: String(t.equals ?? t.oneOf?.join(' or ')),
    got: 'no such register',
    agrees: false,
  }))
  return { outcome: shown.length > 0 ? 'contradicted' : 'cannot-tell', tests: shown, compareWithPanel: [] }
}
