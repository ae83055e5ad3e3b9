import { type ChildProcess, execFile, spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync } from 'node:fs'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { afterEach, describe, expect, it } from 'vitest'
import { openRaw } from './raw-line.ts'

const program = fileURLToPath(new URL('../../simulator/program.ts', import.meta.url))
const profile = fileURLToPath(new URL('../../app/profiles/two-pairs-float32-locked.profile.json', import.meta.url))

let child: ChildProcess | undefined
afterEach(async () => {
  if (!child || child.exitCode !== null) return
  const exited = once(child, 'exit')
  child.kill()
  await exited
})

/** Starts the program; `line()` gives what it prints, line by line. */
const start = (...args: string[]) => {
  const started = spawn(process.execPath, [program, '--profile', profile, ...args], { stdio: ['pipe', 'pipe', 'inherit'] })
  child = started
  const lines = createInterface({ input: started.stdout })[Symbol.asyncIterator]()
  return {
    line: async () => String((await lines.next()).value),
    say: (text: string) => void started.stdin.write(`${text}\n`),
    exited: once(started, 'exit'),
  }
}

/** Ends the program and gives its exit code and what it complained of. */
const refuse = (...args: string[]): Promise<{ code: unknown; said: string }> =>
  new Promise((resolve) =>
    execFile(process.execPath, [program, ...args], (problem, _, stderr) => resolve({ code: problem?.code, said: stderr })),
  )

describe('the simulator on its own', () => {
  it('prints its port, obeys, answers and ends', async () => {
    const scaling = ['scale.upper.signal@1=2', 'scale.upper.reading@1=1000', 'reading.interval@1=0.5']
    const { line, say, exited } = start(
      '--link',
      'tcp',
      '--unit',
      '5',
      '--noise',
      '0',
      '--words',
      'input.range@1=1',
      ...scaling.flatMap((s) => ['--set', s]),
    )
    const [, port] = /^port (\d+)$/.exec(await line()) ?? []
    say('load 250')
    expect(JSON.parse(await line())).toEqual([{ indicator: 'indicator', channel: 1, load: 250, unit: 'kg' }])
    const raw = await openRaw({ host: '127.0.0.1', port: Number(port) })
    // Upper pair of 2 mV/V and 1000 as single floats, high word first.
    raw.send('05 03 00 72 00 04 E5 96')
    expect((await raw.next(13)).slice(0, 32)).toBe('05 03 08 40 00 00 00 44 7A 00 00')
    await raw.close()
    say('panel scale.upper.signal@1 0x3f80,0')
    expect(await line()).toBe('scale.upper.signal@1 changed at the front panel')
    say('settings')
    expect(JSON.parse(await line())).toMatchObject({
      present: { 'scale.upper.signal@1': [0x3f80, 0] },
      saved: { 'scale.upper.signal@1': [0x3f80, 0] },
    })
    say('quit')
    expect((await exited)[0]).toBe(0)
  })

  it('makes an odd line and an ordinary one, shows the display and takes faults back', async () => {
    const scaling = ['--set', 'scale.upper.signal@1=2', '--set', 'scale.upper.reading@1=1000']
    const { line, say, exited } = start('--link', 'tcp', '--noise', '0', '--words', 'input.range@1=1', ...scaling, '--echo')
    const [, port] = /^port (\d+)$/.exec(await line()) ?? []
    say('display')
    // No interval is set: nought stays nought.
    expect(JSON.parse(await line())).toEqual({ reading: 0, text: '0', unit: 'kg' })
    const raw = await openRaw({ host: '127.0.0.1', port: Number(port) })
    raw.send('01 03 00 00 00 01 84 0A')
    expect(await raw.next(15)).toBe('01 03 00 00 00 01 84 0A 01 03 02 51 51 44 28')
    say('line --line-noise 0,0xff')
    expect(await line()).toBe('line changed')
    say('fault {"kind":"silent","times":1}')
    expect(await line()).toBe('fault set')
    say('clear-faults')
    expect(await line()).toBe('no faults to come')
    raw.send('01 03 00 00 00 01 84 0A')
    expect(await raw.next(9)).toBe('01 03 02 51 51 44 28 00 FF')
    await raw.close()
    say('quit')
    expect((await exited)[0]).toBe(0)
  })

  it.skipIf(process.platform !== 'linux')('takes its adapter out and puts it back', async () => {
    const { line, say, exited } = start('--adapter')
    const [, path = ''] = /^path (\S+)$/.exec(await line()) ?? []
    say('adapter out')
    expect(await line()).toBe('adapter out')
    expect(existsSync(path)).toBe(false)
    say('adapter in')
    expect(await line()).toBe('adapter in')
    expect(existsSync(path)).toBe(true)
    say('quit')
    expect((await exited)[0]).toBe(0)
    expect(existsSync(path)).toBe(false)
  })

  it.each([
    [['--format', 'fast'], /^--format is a speed and a character such as 19200,8E1, not fast/],
    [['--shunt', '100000'], /^--shunt OHM,OHM is not a number: \(missing\)/],
    [['--other-master', '9'], /^--other-master UNIT,MS is not a number: \(missing\)/],
    [['--line-noise', '256'], /^--line-noise: a byte is 0 to 255, not 256/],
    [['--link', 'tcp', '--adapter'], /^--adapter goes with --link pty/],
  ] as const)('says what is wrong with %j', async (wrong, said) => {
    expect(await refuse('--profile', profile, ...wrong)).toMatchObject({ code: 2, said: expect.stringMatching(said) })
  })

  it('says which option is wrong', async () => {
    expect(await refuse('--profile', profile, '--link', 'tin-can')).toMatchObject({
      code: 2,
      said: expect.stringMatching(/^--link is .* not tin-can/),
    })
    expect(await refuse('--profile', profile, '--set', 'no.such=1')).toMatchObject({
      code: 2,
      said: expect.stringMatching(/^the profile has no register no\.such/),
    })
    expect(await refuse()).toMatchObject({ code: 2, said: expect.stringMatching(/^--profile is missing/) })
  })
})
