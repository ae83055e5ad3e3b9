import { createInterface } from 'node:readline'
import { startBench } from './bench.ts'
import type { Bench, Fault } from './description.ts'
import { lineConditions, programOptions, usage } from './program-options.ts'
import { numberFrom, wordsFrom } from './typed-values.ts'

const indicator = 'indicator'
const bus = 'bus'

const show = (value: unknown): string => JSON.stringify(value)

/** Carries out one line of standard input; gives what to print. Throws an Error that says what was wrong with it. */
const obey = async (bench: Bench, line: string): Promise<string> => {
  const [command, ...words] = line.trim().split(/\s+/)
  const [first, second] = words
  switch (command) {
    case 'load':
      bench.setLoad(indicator, second === undefined ? 1 : numberFrom(second, 'channel'), numberFrom(first, 'load'))
      return show(bench.loads())
    case 'loads':
      return show(bench.loads())
    case 'display':
      return show(bench.display(indicator, first === undefined ? 1 : numberFrom(first, 'channel')))
    case 'settings':
      return show({ present: bench.settings(indicator), saved: bench.saved(indicator) })
    case 'power':
      if (first === 'cycle') bench.powerCycle(indicator)
      else if (first === 'on' || first === 'off') bench.power(indicator, first === 'on')
      else throw new Error('power on, off or cycle')
      return `power ${first}`
    case 'pull':
      bench.pull(bus)
      return 'cable off'
    case 'plug':
      bench.plug(bus)
      return 'cable on'
    case 'adapter':
      if (first === 'out') await bench.pullAdapter(bus)
      else if (first === 'in') bench.plugAdapter(bus)
      else throw new Error('adapter out or in')
      return `adapter ${first}`
    case 'line':
      bench.setLine(bus, lineConditions(words))
      return 'line changed'
    case 'clear-faults':
      bench.clearFaults(indicator)
      return 'no faults to come'
    case 'panel':
      if (first === undefined || second === undefined) throw new Error('panel KEY W,W')
      bench.panel(indicator, first, wordsFrom(second, first))
      return `${first} changed at the front panel`
    case 'fault':
      bench.inject(indicator, JSON.parse(line.trim().slice('fault'.length)) as Fault)
      return 'fault set'
    default:
      throw new Error(`unknown command: ${command}`)
  }
}

const main = async (): Promise<void> => {
  const options = programOptions(process.argv.slice(2))
  if (options === undefined) return console.log(usage)
  const bench = await startBench({ buses: [options.bus], seed: options.seed })
  const address = bench.addressOf(bus)
  console.log('path' in address ? `path ${address.path}` : `port ${address.port}`)

  const input = createInterface({ input: process.stdin })
  const stop = async () => {
    input.close()
    await bench.close()
    process.exit()
  }
  process.once('SIGINT', stop)
  process.once('SIGTERM', stop)
  let obeyed = Promise.resolve()
  input.on('line', (line) => {
    if (line.trim() === '') return
    if (line.trim() === 'quit') return void obeyed.then(stop)
    // One after the other, in the order typed.
    obeyed = obeyed.then(async () => {
      try {
        console.log(await obey(bench, line))
      } catch (problem) {
        console.error(problem instanceof Error ? problem.message : String(problem))
      }
    })
  })
}

try {
  await main()
} catch (problem) {
  console.error(`${problem instanceof Error ? problem.message : String(problem)}\n\n${usage}`)
  process.exitCode = 2
}
