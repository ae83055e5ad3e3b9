import { type ChildProcess, fork, type Serializable } from 'node:child_process'
import { once } from 'node:events'
import { fileURLToPath } from 'node:url'

export type Child = {
  /** Sends a command and waits for the one message that answers it. Throws where the process ended instead. */
  ask<A>(command: Serializable): Promise<A>
  end(): Promise<void>
}

/** Starts a program of the bench in a process of its own and waits for its first message. */
export async function startChild<A>(file: string, options: object, execArgv: readonly string[] = []): Promise<{ child: Child; first: A }> {
  const program = fork(fileURLToPath(new URL(file, import.meta.url)), [JSON.stringify(options)], { execArgv: [...execArgv] })
  const ended = once(program, 'exit')
  const next = () => nextMessage(program, file)
  return {
    first: (await next()) as A,
    child: {
      async ask<B>(command: Serializable) {
        const answer = next()
        program.send(command)
        return (await answer) as B
      },
      async end() {
        if (program.connected) program.disconnect()
        await ended
      },
    },
  }
}

async function nextMessage(program: ChildProcess, file: string): Promise<unknown> {
  if (program.exitCode !== null) throw new Error(`${file} has ended`)
  const gone = new AbortController()
  const { signal } = gone
  try {
    return await Promise.race([
      once(program, 'message', { signal }).then(([message]) => message as unknown),
      once(program, 'exit', { signal }).then(([code]) => {
        throw new Error(`${file} ended with code ${code}`)
      }),
    ])
  } finally {
    gone.abort()
  }
}
