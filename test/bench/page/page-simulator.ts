import { startBench } from '../../../simulator/index.ts'
import { type SetupName, setups } from './page-jobs.ts'

/** A process of its own: the bench of a setup; its first message says where each bus is. */
const { setup, points } = JSON.parse(process.argv[2] ?? '') as { setup: SetupName; points: number }
const { buses } = setups[setup](points)
const bench = await startBench({ buses, seed: 1 })
process.on('disconnect', () => void bench.close().then(() => process.exit(0)))
process.send?.(Object.fromEntries(buses.map(({ key }) => [key, bench.addressOf(key)])))
