import { type ChildProcess, spawn } from 'node:child_process'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'

export type MasterName = 'reference' | 'spanwright' | 'modbus-serial' | 'pymodbus'
/** What a master is told: ask these units in turn, over and over, for so long. */
export type MasterTask = { units: readonly number[]; ms: number }
export type MasterReport = { answered: number; failed: number; elapsedMs: number; cpuMs: number }

/** Every master waits this long for an answer, in ms. */
export const answerMs = 200

export type Master = { run(task: MasterTask): Promise<MasterReport>; end(): void }

const files: Record<MasterName, string> = {
  reference: 'reference.ts',
  spanwright: 'own.ts',
  'modbus-serial': 'plain-loop.ts',
  pymodbus: 'pymodbus-loop.py',
}

/** A master in a process of its own, so that its processor time is its own: one task a line in, one report a line out, as JSON. */
export async function startMaster(name: MasterName, path: string, baud: number, python: string): Promise<Master> {
  const file = fileURLToPath(new URL(files[name], import.meta.url))
  const program = spawn(name === 'pymodbus' ? python : process.execPath, [file, path, String(baud), String(answerMs)], {
    stdio: ['pipe', 'pipe', 'inherit'],
  })
  const lines = createInterface({ input: program.stdout })[Symbol.asyncIterator]()
  const next = async () => {
    const line = await lines.next()
    if (line.done) throw new Error(`the ${name} master ended`)
    return line.value
  }
  await next()
  return {
    async run(task) {
      program.stdin.write(`${JSON.stringify(task)}\n`)
      return JSON.parse(await next()) as MasterReport
    },
    end: () => stop(program),
  }
}

const stop = (program: ChildProcess) => {
  program.stdin?.end()
}
