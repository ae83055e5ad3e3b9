import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Profile } from '../../app/profile/schema.ts'
import { type LineHost, startLineHost } from './line-host.ts'

const mover = join(import.meta.dirname, 'address-mover.ts')

/** Unit `a` at address 3, whose host was killed when it began this step of giving `ind-1` address 7; no host has the job open now. */
export async function killedWhileMoving(step: string, nth: number, profile?: Profile): Promise<LineHost> {
  const line = await startLineHost({
    way: 'rtu-over-tcp',
    units: [{ key: 'a', unit: 3, serial: 1001 }],
    indicators: [{ id: 'ind-1', unit: 3 }],
    ...(profile ? { profile } : {}),
  })
  await line.host.close()
  const program = spawn(process.execPath, [mover, line.jobPath, '3', '7', step, String(nth)], {
    stdio: ['ignore', 'pipe', 'inherit'],
    env: { ...process.env, NODE_COMPILE_CACHE: join(tmpdir(), 'spanwright-mover-compiled') },
  })
  const exit = once(program, 'exit')
  let said = ''
  await Promise.race([
    new Promise<void>((reached) => {
      program.stdout.on('data', (data: Buffer) => {
        said += data.toString()
        if (said.endsWith(`${step} ${nth}\n`)) reached()
      })
    }),
    exit.then(() => Promise.reject(new Error(`the mover ended by itself after: ${said}`))),
  ])
  program.kill('SIGKILL')
  await exit
  return line
}
