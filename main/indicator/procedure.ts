import type { BusFailure } from '../../app/contract/bus-failure.ts'
import { type Profile, type Register, registerKey, type Step } from '../../app/profile/schema.ts'
import { findRegister } from '../../app/profile/settings.ts'
import { joinWords } from '../../app/profile/words.ts'
import { fail, ok, type Result } from '../../app/result.ts'
import type { UnitIo } from './unit-io.ts'

export type Clock = { now(): number; pause(ms: number): Promise<void> }

/** Runs the steps of one procedure or command of the profile; `channel` picks the register where it exists per channel. */
export async function runSteps(io: UnitIo, steps: readonly Step[], clock: Clock, channel?: number): Promise<Result<null, BusFailure>> {
  for (const step of steps) {
    const done = await runStep(io, step, clock, channel)
    if (!done.ok) return done
  }
  return ok(null)
}

async function runStep(io: UnitIo, step: Step, clock: Clock, channel: number | undefined): Promise<Result<null, BusFailure>> {
  if ('waitMs' in step) {
    await clock.pause(step.waitMs)
    return ok(null)
  }
  if ('write' in step) return io.write([{ register: register(io.profile, step.write, channel), words: step.words }])
  if ('until' in step) {
    const watched = register(io.profile, step.until, channel)
    return poll(clock, step.withinMs, async () => {
      const read = await io.read([watched], 'user')
      if (!read.ok) return read
      const words = read.value.words.get(registerKey(watched)) ?? []
      return joinWords(words, watched.order) === step.equals ? ok(null) : fail({ kind: 'no-reply', waitedMs: step.withinMs, tries: 1 })
    })
  }
  const first = io.profile.registers.find((r) => r.role === 'identity') ?? io.profile.registers[0]
  if (!first) throw new RangeError(`${io.profile.id} has no register to ask whether it answers again`)
  return poll(clock, step.answersAgainWithinMs, async () => {
    const read = await io.read([first], 'user')
    return read.ok ? ok(null) : read
  })
}

async function poll(clock: Clock, withinMs: number, ask: () => Promise<Result<null, BusFailure>>): Promise<Result<null, BusFailure>> {
  const until = clock.now() + withinMs
  for (;;) {
    const answer = await ask()
    if (answer.ok || clock.now() >= until) return answer
    if (answer.failure.kind === 'stopped' || answer.failure.kind === 'link-down') return answer
    await clock.pause(50)
  }
}

function register(profile: Profile, name: string, channel: number | undefined): Register {
  const found =
    (channel === undefined ? undefined : findRegister(profile, `${name}@${channel}`)) ?? profile.registers.find((r) => r.name === name)
  if (!found) throw new RangeError(`${profile.id} has no register ${name}; the schema should have refused it`)
  return found
}
