import { fail, ok, type Result } from '../result.ts'
import { type Step, step } from './schema.ts'

/** How each kind of step is written, for people who type them. */
export const stepExamples = ['write control.save 1', 'wait 200 ms', 'until control.busy = 0 within 3000 ms', 'answers again within 5000 ms']

export function stepText(s: Step): string {
  if ('write' in s) return `write ${s.write} ${s.words.join(' ')}`
  if ('waitMs' in s) return `wait ${s.waitMs} ms`
  if ('until' in s) return `until ${s.until} = ${s.equals} within ${s.withinMs} ms`
  return `answers again within ${s.answersAgainWithinMs} ms`
}

/** Steps of a command or procedure as typed, one a line; empty lines are passed over. Words are decimal, or hexadecimal with 0x. */
export function stepsFromText(text: string): Result<Step[], { line: number; why: string }> {
  const steps: Step[] = []
  for (const [i, raw] of text.split('\n').entries()) {
    const line = raw.trim()
    if (line === '') continue
    const read = step.safeParse(readLine(line))
    if (!read.success) return fail({ line: i + 1, why: `"${line}" is no step; write e.g. ${stepExamples.join(', or ')}.` })
    steps.push(read.data)
  }
  return ok(steps)
}

function readLine(line: string): unknown {
  const write = /^write (\S+)((?: (?:0x[0-9a-f]{1,4}|\d{1,5}))+)$/i.exec(line)
  if (write) return { write: write[1], words: (write[2] ?? '').trim().split(' ').map(Number) }
  const wait = /^wait (\d+) ms$/.exec(line)
  if (wait) return { waitMs: Number(wait[1]) }
  const until = /^until (\S+) = (-?\d+) within (\d+) ms$/.exec(line)
  if (until) return { until: until[1], equals: Number(until[2]), withinMs: Number(until[3]) }
  const again = /^answers again within (\d+) ms$/.exec(line)
  return again ? { answersAgainWithinMs: Number(again[1]) } : undefined
}
