import type { BenchBus } from '../../simulator/index.ts'
import { startBench } from '../../simulator/index.ts'

/** A process of its own: a bench with the buses it is given; its first message says where each is. */
const buses = JSON.parse(process.argv[2] ?? '') as BenchBus[]
const bench = await startBench({ buses, seed: 1 })
process.on('disconnect', () => void bench.close().then(() => process.exit(0)))
process.send?.(Object.fromEntries(buses.map(({ key }) => [key, bench.addressOf(key)])))
