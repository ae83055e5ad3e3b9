import { spawn } from 'node:child_process'
import { once } from 'node:events'

export type PtyPair = { ends: [string, string]; close(): Promise<void> }

/** Two pseudo-terminals joined by socat: what goes into one comes out of the other. */
export const openPtyPair = async (socat: string): Promise<PtyPair> => {
  const child = spawn(socat, ['-d', '-d', 'pty,raw,echo=0', 'pty,raw,echo=0'], { stdio: ['ignore', 'ignore', 'pipe'] })
  const exited = once(child, 'exit')
  let said = ''
  const ready = new Promise<[string, string]>((resolve, reject) => {
    child.stderr.on('data', (data: Buffer) => {
      said += data.toString()
      const [first, second] = [...said.matchAll(/PTY is (\S+)/g)].map((match) => match[1])
      if (first && second && said.includes('starting data transfer loop')) resolve([first, second])
    })
    child.once('error', reject)
    child.once('exit', () => reject(new Error(`socat ended: ${said}`)))
  })
  return {
    ends: await ready,
    async close() {
      child.kill()
      await exited
    },
  }
}
