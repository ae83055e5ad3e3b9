import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { showProgress } from '../../../main/cli/progress.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

/** What stands on a screen after all that was written: a carriage return comes with `ESC [K`, which clears the line. */
function screen(isTTY: boolean) {
  let lines = ['']
  const write = (text: string): boolean => {
    for (const part of text.replaceAll('\r\u001b[K', '\r').split(/([\r\n])/)) {
      if (part === '\n') lines.push('')
      else if (part === '\r') lines = [...lines.slice(0, -1), '']
      else lines = [...lines.slice(0, -1), (lines.at(-1) ?? '') + part]
    }
    return true
  }
  return { isTTY, write, lines: () => lines } as Parameters<typeof showProgress>[0] & { lines(): string[] }
}

it('gives way on a screen to what is printed meanwhile, stands below it again, and is gone at the end', () => {
  const tty = screen(true)
  const progress = showProgress(tty)
  progress.say('1 of 3')
  vi.advanceTimersByTime(1_000)
  progress.say('2 of 3')
  progress.aside(() => tty?.write('unit 2: answers\n'))
  expect(tty?.lines()).toEqual(['unit 2: answers', '2 of 3'])
  progress.say('3 of 3')
  progress.end()
  progress.aside(() => tty?.write('done\n'))
  expect(tty?.lines()).toEqual(['unit 2: answers', 'done', ''])
})

it('is a line for each change elsewhere, none of them twice', () => {
  const file = screen(false)
  const progress = showProgress(file)
  progress.say('1 of 2')
  expect(file?.lines()).toEqual([''])
  vi.advanceTimersByTime(1_000)
  progress.aside(() => file?.write('unit 1: answers\n'))
  progress.say('1 of 2')
  progress.say('2 of 2')
  progress.end()
  expect(file?.lines()).toEqual(['1 of 2', 'unit 1: answers', '2 of 2', ''])
})
