import { meaningOf } from './meanings.ts'

/** What people call a setting; one that has no name here is shown by its register name. */
export function settingWords(key: string, channels = 1): string {
  const [name = key, channel] = key.split('@')
  const said = meaningOf(name)?.words ?? numberedWords(name) ?? name
  return channel !== undefined && channels > 1 ? `${said}, channel ${channel}` : said
}

/** Registers that a unit has many of are named by number. */
const numbered: readonly (readonly [RegExp, (number: string, what: string) => string])[] = [
  [/^setpoint\.(\d+)\.(value)$/, (number) => `Set-point ${number}`],
  [/^scale\.table\.(\d+)\.(signal|reading)$/, (number, what) => `Table pair ${number}, ${what}`],
]

function numberedWords(name: string): string | undefined {
  for (const [shape, words] of numbered) {
    const [, number, what] = shape.exec(name) ?? []
    if (number !== undefined && what !== undefined) return words(number, what)
  }
  return undefined
}
