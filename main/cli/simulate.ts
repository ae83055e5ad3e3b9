import { createInterface } from 'node:readline'
import { type Command, Option } from 'commander'
import { bundledProfiles } from '../../app/profiles/bundled.ts'
import { units } from '../../app/quantity/units.ts'
import { benchLinks, type SingleBench, startSingleBench } from '../practice/single-bench.ts'
import { ended, failed } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { wholeNumber } from './numbers.ts'
import { profileBy } from './profile-by.ts'
import { type Around, describeCommand, run } from './run-command.ts'

type Options = {
  profile: string
  link: (typeof benchLinks)[number]
  unit: number
  port: number
  seed: number
  asDelivered?: true
  json?: boolean
}

export function addSimulate(program: Command): void {
  describeCommand(
    program
      .command('simulate')
      .description('one simulated indicator on a line of its own, scaled for the sensor it has, until Ctrl-C; type "load 250" to load it')
      .requiredOption('--profile <id or file>', `a bundled profile (${[...bundledProfiles.keys()].join(', ')}) or a profile file`)
      .addOption(new Option('--link <kind>', 'how it is reached').choices(benchLinks).default('pty'))
      .option('--unit <address>', 'its Modbus address', wholeNumber(0, 247), 1)
      .option('--port <number>', 'TCP port on this computer; any free one unless given', wholeNumber(0, 65_535), 0)
      .option('--as-delivered', 'nobody has scaled it yet: to practise that, or to see what an unscaled indicator reads')
      .option('--seed <number>', 'of the noise', wholeNumber(0, 2 ** 31), 1),
    [
      'simulate --profile two-pairs-float32-locked --unit 5',
      'simulate --profile mine.profile.json --link modbus-tcp --port 5020',
      'simulate --profile two-pairs-float32-locked --as-delivered',
    ],
    'simulate',
  ).action(run(simulate))
}

async function simulate(options: Options, around: Around) {
  const profile = profileBy(options.profile)
  if (!profile.ok) return ended(exitCode.usage, { why: profile.failure, where: '--profile' })
  const started = await startSingleBench({ ...options, profile: profile.value, asDelivered: options.asDelivered === true })
  if (!started.ok) return failed({ why: `The bench did not start: ${started.failure}` })
  const { bench, address, sensor, unscaledWhy } = started.value
  const scaled = options.asDelivered !== true && unscaledWhy === null
  const where = 'path' in address ? address.path : `${address.host}:${address.port}`
  around.emit(`${profile.value.name}, unit ${options.unit}, ${options.link} at ${where}. Ctrl-C ends it.`, {
    ok: true,
    profile: profile.value.id,
    unit: options.unit,
    link: options.link,
    ...address,
    scaled,
    sensor: {
      capacity: { value: String(sensor.capacity), unit: sensor.unit },
      ratedOutput: { value: String(sensor.ratedOutputMvPerV), unit: 'mV/V' },
    },
  })
  const symbol = units[sensor.unit].symbol
  around.note(
    `On ${profile.value.channels === 1 ? 'it' : 'each channel'}: a sensor of ${sensor.capacity} ${symbol} and ${sensor.ratedOutputMvPerV} mV/V, ${
      scaled ? 'for which it is scaled' : 'for which nobody has scaled it'
    }. "load ${sensor.capacity / 4}" puts ${sensor.capacity / 4} ${symbol} on it.`,
  )
  if (unscaledWhy !== null) around.note(`It could not be scaled by itself: ${unscaledWhy}`)
  await obeyUntilInterrupted(started.value, around)
  await bench.close()
  return null
}

/** Loads come from standard input; its end is no end of the bench, since it may run in the background. */
async function obeyUntilInterrupted(bench: SingleBench, { interrupts, note }: Around): Promise<void> {
  const input = createInterface({ input: process.stdin })
  input.on('line', (line) => {
    const [, load, channel] = /^load (-?\d+(?:\.\d+)?)(?: (\d+))?$/.exec(line.trim()) ?? []
    if (load === undefined) {
      if (line.trim() !== '') note('Known here: load NUMBER [CHANNEL]')
      return
    }
    try {
      bench.setLoad(Number(channel ?? 1), Number(load))
      note(`${load} ${units[bench.sensor.unit].symbol} on channel ${channel ?? 1}`)
    } catch (cause) {
      note(cause instanceof Error ? cause.message : String(cause))
    }
  })
  const idle = setInterval(() => {}, 60_000)
  await new Promise<void>((resolve) => {
    if (interrupts.signal.aborted) resolve()
    else interrupts.signal.addEventListener('abort', () => resolve(), { once: true })
  })
  clearInterval(idle)
  input.close()
  process.stdin.destroy()
}
