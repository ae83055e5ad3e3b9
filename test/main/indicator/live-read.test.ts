import { afterEach, expect, it } from 'vitest'
import { bundledProfiles } from '../../../app/profiles/bundled.ts'
import { nodeClock } from '../../../main/host/node-clock.ts'
import { readLive } from '../../../main/indicator/live-read.ts'
import { runSteps } from '../../../main/indicator/procedure.ts'
import { type OneUnit, startOneUnit } from '../../builders/one-unit.ts'
import { value } from '../../builders/practice-host.ts'

let unit: OneUnit
afterEach(() => unit.close())

const sample = async () => value(await readLive(unit.io, [{ pointId: 'p', channel: 1 }], null, 'live'))[0]!

it('takes the decimals of a reading from another table, as they are now', async () => {
  // The readings stand in input registers, their decimals in holding register 102. 1000.00 kg at 2 mV/V.
  unit = await startOneUnit(bundledProfiles.get('two-pairs-four-channels')!, {
    'reading.decimals@1': [2],
    'scale.lower.signal@1': [0, 0],
    'scale.lower.reading@1': [0, 0],
    'scale.upper.signal@1': [0x001e, 0x8480],
    'scale.upper.reading@1': [0x0001, 0x86a0],
  })
  unit.bench.setLoad('indicator', 1, 400)
  unit.pass(60)
  expect((await sample()).reading).toMatch(/^400\.\d\d$|^399\.9\d$/)
  // The same 1000 kg with one decimal, typed at the front panel.
  unit.bench.panel('indicator', 'reading.decimals@1', [1])
  unit.bench.panel('indicator', 'scale.upper.reading@1', [0, 0x2710])
  expect((await sample()).reading).toMatch(/^400\.\d$|^399\.9$/)
})

it('takes status from discrete inputs as well as from the status word', async () => {
  unit = await startOneUnit(bundledProfiles.get('counts-millivolt-input')!, {
    'scale.lower.counts@1': [0, 0],
    'scale.lower.reading@1': [0, 0],
    'scale.upper.counts@1': [0x0007, 0xa120],
    'scale.upper.reading@1': [0x447a, 0],
  })
  expect((await sample()).status).not.toContain('net')
  value(await runSteps(unit.io, unit.io.profile.commands.tare!.steps, nodeClock, 1))
  expect((await sample()).status).toContain('net')
})
