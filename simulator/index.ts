export { startBench } from './bench.ts'
export type {
  Bench,
  BenchAddress,
  BenchBus,
  BenchIndicator,
  BenchLink,
  BenchLoad,
  BenchOptions,
  BenchPoint,
  BenchSensor,
  Fault,
  HeardRequest,
  RequestLog,
} from './description.ts'
export { practiceBuses } from './practice-scenario.ts'
