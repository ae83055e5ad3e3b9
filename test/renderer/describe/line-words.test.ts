import { expect, it } from 'vitest'
import { lineText, readLine } from '../../../renderer/describe/line-words.ts'

it.each([
  [{ baud: 9600, parity: 'none', stopBits: 1, unit: 1 }, '9600 baud, no parity, 1 stop bit, unit 1'],
  [{ baud: 19200, parity: 'even', stopBits: 2, unit: 17 }, '19200 baud, even parity, 2 stop bits, unit 17'],
] as const)('a line %j is said in words, %s, and read from them', (line, words) => {
  expect(lineText(line)).toBe(words)
  expect(readLine(words)).toEqual(line)
})

it('is read without the words, too', () => {
  expect(readLine('9600 none 1, unit 1')).toEqual({ baud: 9600, parity: 'none', stopBits: 1, unit: 1 })
  expect(readLine('38400 Odd 2 unit 5')).toEqual({ baud: 38400, parity: 'odd', stopBits: 2, unit: 5 })
})

it.each(['9600', '9600 none 3, unit 1', '9600 mark 1, unit 1', ''])('"%s" is no line', (typed) => expect(readLine(typed)).toBeNull())
