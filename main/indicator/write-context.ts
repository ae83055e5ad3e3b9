import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { Place } from '../../app/contract/place.ts'
import type { WriteFailure, WriteReceipt, WriteStep } from '../../app/contract/views.ts'
import type { WriteCause } from '../../app/contract/write-cause.ts'
import type { SettingsImage } from '../../app/job/schema.ts'
import { interpret, settingRegisters } from '../../app/profile/settings.ts'
import { ok, type Result } from '../../app/result.ts'
import type { Clock } from './procedure.ts'
import type { UnitIo } from './unit-io.ts'

export type { Wanted } from '../../app/profile/planned-writes.ts'

export type Cause = WriteCause
export type Trouble = { because: Cause; during: WriteStep }

export type WriteContext = {
  io: UnitIo
  clock: Clock
  /** UTC instant as text, for the journal and the images. */
  stamp(): string
  /** `says` what is waited for, where that may take long. */
  onStep(step: WriteStep, done: number, of: number, says?: string): void
}

/** `place` is where the indicator answers after a write that changed that; null where it was not found. */
export type WriteEnd = { result: Result<WriteReceipt, WriteFailure>; image: SettingsImage | null; place?: Place | null }

/** Complete read of an indicator's settings. */
export async function readImage(io: UnitIo, stamp: () => string): Promise<Result<SettingsImage, BusFailure>> {
  const read = await io.read(settingRegisters(io.profile), 'user')
  return read.ok ? ok({ at: stamp(), values: interpret(io.profile, read.value.words) }) : read
}
