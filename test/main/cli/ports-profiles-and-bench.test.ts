import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { connect } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { jsonOutputs } from '../../../main/cli/json-outputs.ts'
import { fitting, spanwright, startCommand } from '../../builders/command-line.ts'

const bundled = new URL('../../../app/profiles/two-pairs-float32-locked.profile.json', import.meta.url).pathname

function brokenProfile(): string {
  const profile = JSON.parse(readFileSync(bundled, 'utf8'))
  profile.registers[0].order = 'ABCD'
  profile.requests.longestRead = 126
  const file = join(mkdtempSync(join(tmpdir(), 'spanwright-profile-')), 'broken.profile.json')
  writeFileSync(file, JSON.stringify(profile))
  return file
}

/** Of unit 9 the holding register 0, and of unit 1 those at 116; MODBUS Messaging on TCP/IP V1.0b, 3.1.3. */
const readModel = (port: number) => answerTo(port, '000100000006090300000001')
const readUpper = (port: number) => answerTo(port, '000200000006010300740002')

function answerTo(port: number, request: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, '127.0.0.1', () => socket.write(Buffer.from(request, 'hex')))
    socket.once('data', (data) => {
      socket.destroy()
      resolve(data.toString('hex'))
    })
    socket.once('error', reject)
  })
}

describe('ports', () => {
  it('lists the serial ports in the published form', async () => {
    const { code, out } = await spanwright('ports', '--json')
    expect(code).toBe(0)
    const { ports } = fitting<{ ports: { path: string }[] }>('ports', out)
    expect(ports.every((p) => p.path.length > 0)).toBe(true)
  })
})

describe('profile check', () => {
  it('finds nothing wrong with a bundled profile', async () => {
    const { code, out } = await spanwright('profile', 'check', bundled)
    expect([code, out]).toEqual([0, `${bundled}: right (two-pairs-float32-locked, 19 registers)\n`])
  })

  it('says the path of each wrong value and what would be right, and fails', async () => {
    const file = brokenProfile()
    const { code, out, err } = await spanwright('profile', 'check', file, bundled)
    expect([code, out]).toEqual([1, ''])
    expect(err).toContain(`${file}: registers.0.order: u16 takes one register: say AB or BA`)
    expect(err).toMatch(/requests\.longestRead: .*125/)
  })

  it('says the same to programs', async () => {
    const { code, out } = await spanwright('profile', 'check', '--json', brokenProfile(), '/no/such/file')
    expect(code).toBe(1)
    const { files } = fitting<{ files: { problems: { path: string }[] }[] }>('profile-check', out)
    expect(files.map((f) => f.problems[0]?.path)).toEqual(['requests.longestRead', '(file)'])
  })
})

describe('simulate', () => {
  it('answers as the unit asked for, takes loads, and ends in order by Ctrl-C', async () => {
    const started = startCommand('simulate', '--profile', 'two-pairs-float32-locked', '--link', 'modbus-tcp', '--unit', '9', '--json')
    await started.said('"port":')
    started.child.stdin?.write('load 250\n')
    await started.said('250 kg on channel 1')
    expect(await readModel(Number(/"port":(\d+)/.exec(started.output())?.[1]))).toMatch(/^000100000005090302/)
    started.child.kill('SIGINT')
    const { code, out } = await started.ended
    expect(code).toBe(0)
    expect(fitting('simulate', out)).toMatchObject({ unit: 9, profile: 'two-pairs-float32-locked', scaled: true })
  })

  it('starts scaled for the sensor it names', async () => {
    const tcp = ['--profile', 'front-panel-only', '--link', 'modbus-tcp', '--json']
    const scaled = startCommand('simulate', ...tcp)
    await scaled.said('a sensor of 10 kN and 2 mV/V, for which it is scaled. "load 2.5" puts 2.5 kN on it.')
    scaled.child.kill('SIGINT')
    expect(fitting('simulate', (await scaled.ended).out)).toMatchObject({ scaled: true, sensor: { capacity: { value: '10', unit: 'kN' } } })
  })

  it('starts as delivered where that is asked for: its upper reading is not that of the sensor', async () => {
    const started = startCommand('simulate', '--profile', 'two-pairs-float32-locked', '--link', 'modbus-tcp', '--json', '--as-delivered')
    await started.said('for which nobody has scaled it')
    await started.said('"port":')
    // 1000 as a single float is 447a 0000 (IEEE 754-2019, 3.4).
    expect(await readUpper(Number(/"port":(\d+)/.exec(started.output())?.[1]))).toMatch(/^000200000007010304(?!447a0000)/)
    started.child.kill('SIGINT')
    expect(fitting('simulate', (await started.ended).out)).toMatchObject({ scaled: false })
  })

  it('names the profiles there are where it does not know one', async () => {
    const { code, err } = await spanwright('simulate', '--profile', 'no-such-model')
    expect(code).toBe(2)
    expect(err).toContain('two-pairs-float32-locked')
  })
})

describe('the command line', () => {
  it('ends with 2 and shows the usage where it is wrong', async () => {
    const { code, err } = await spanwright('simulate', '--unit', '300')
    expect(code).toBe(2)
    expect(err).toContain('A whole number from 0 to 247 is needed.')
  })

  it('prints the schemas that outputs are held against, and refuses another name in the published form', async () => {
    const listed = await spanwright('schema', 'profile-check')
    expect(JSON.parse(listed.out)).toEqual(z.toJSONSchema(jsonOutputs['profile-check']))
    const unknown = await spanwright('schema', 'toString', '--json')
    expect(unknown.code).toBe(2)
    expect(fitting('failure', unknown.out)).toMatchObject({ ok: false, exit: 2 })
  })
})
