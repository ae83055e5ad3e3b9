export { startBench } from './bench.ts'
export type {
  Bench,
  BenchAddress,
  BenchBus,
  BenchDisplay,
  BenchIndicator,
  BenchLink,
  BenchLoad,
  BenchOptions,
  BenchPoint,
  BenchSensor,
  BenchShunt,
  Fault,
  HeardRequest,
  LineConditions,
  OtherMaster,
  RequestLog,
} from './description.ts'
export { practiceBuses } from './practice-scenario.ts'
