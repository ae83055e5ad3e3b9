import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { z } from 'zod'
import type { Job } from '../../app/job/schema.ts'
import { type JsonOutput, jsonOutputs } from '../../main/cli/json-outputs.ts'
import { createJob } from '../../main/files/job-store.ts'
import { type Bench, startBench } from '../../simulator/index.ts'
import { oneHopperBuses, oneHopperJob } from './one-hopper.ts'

const program = fileURLToPath(new URL('../../main/cli/spanwright.js', import.meta.url))

export type Ended = { code: number | null; out: string; err: string }
export type Started = { child: ChildProcess; output(): string; said(text: string | RegExp): Promise<void>; ended: Promise<Ended> }

const holds = (all: string, text: string | RegExp) => (typeof text === 'string' ? all.includes(text) : text.test(all))

/** Starts the real program; `said` settles once standard output or error holds the text. */
export function startCommand(...args: string[]): Started {
  const child = spawn(process.execPath, [program, ...args], { stdio: ['pipe', 'pipe', 'pipe'] })
  let out = ''
  let err = ''
  const waiting: { text: string | RegExp; settle(): void }[] = []
  const look = () => {
    for (const w of waiting) if (holds(out, w.text) || holds(err, w.text)) w.settle()
  }
  child.stdout.on('data', (data: Buffer) => {
    out += data.toString()
    look()
  })
  child.stderr.on('data', (data: Buffer) => {
    err += data.toString()
    look()
  })
  const ended = once(child, 'close').then(([code]) => ({ code: code as number | null, out, err }))
  return {
    child,
    ended,
    output: () => out,
    said: (text) =>
      new Promise((resolve, reject) => {
        waiting.push({ text, settle: resolve })
        look()
        ended.then((end) => reject(new Error(`ended without saying "${text}": ${JSON.stringify(end)}`)))
      }),
  }
}

/** Runs the real program to its end. */
export function spanwright(...args: string[]): Promise<Ended> {
  const { child, ended } = startCommand(...args)
  child.stdin?.end()
  return ended
}

export type RealBench = { bench: Bench; jobPath: string; close(): Promise<void> }

/** The practice indicators on a Modbus TCP socket, and a job file that reaches them as it would real ones. */
export async function startRealBench(change: (job: Job) => Job = (job) => job): Promise<RealBench> {
  const bench = await startBench({ buses: oneHopperBuses({ kind: 'modbus-tcp', port: 0 }), seed: 7 })
  const address = bench.addressOf('line-1')
  if ('path' in address) throw new Error('expected a socket')
  const jobPath = join(mkdtempSync(join(tmpdir(), 'spanwright-cli-')), 'site.job.json')
  const practice = oneHopperJob()
  const job: Job = {
    ...practice,
    simulated: false,
    buses: practice.buses.map((bus) => ({ ...bus, link: { kind: 'modbus-tcp', ...address } })),
  }
  const made = createJob(jobPath, change(job))
  if (!made.ok) throw new Error(made.failure.why)
  return { bench, jobPath, close: () => bench.close() }
}

/** What the program printed, once it fits the JSON Schema published under this name (`spanwright schema` prints the same). */
export function fitting<T>(name: JsonOutput, out: string): T {
  return z.fromJSONSchema(z.toJSONSchema(jsonOutputs[name]) as Parameters<typeof z.fromJSONSchema>[0]).parse(JSON.parse(out)) as T
}
