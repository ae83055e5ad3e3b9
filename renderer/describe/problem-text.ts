import type { Draft } from '../../app/profile/draft.ts'
import { registerKey } from '../../app/profile/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { explain } from '../figures/explain.ts'

type Problem = { path: string; message: string }
type Unfit = { kind: 'unfit'; problems: readonly Problem[] }

export const procedureWords = { unlock: 'Unlock', save: 'Save', lock: 'Lock again', restart: 'Restart' } as const
export const commandWords = {
  zero: 'Zero',
  tare: 'Tare',
  'clear-tare': 'Clear tare',
  'shunt-on': 'Shunt on',
  'shunt-off': 'Shunt off',
} as const

/** Parts of a description as their fields on the screen are called. */
const fieldWords: Readonly<Record<string, string>> = {
  id: 'Id',
  name: 'Model',
  about: 'What else is to be known',
  'source.document': 'Document',
  'source.revision': 'Its revision',
  channels: 'Channels',
  serial: 'Line it is delivered with',
  'requests.longestRead': 'Longest read',
  'requests.longestWrite': 'Longest write',
  'requests.answerMs': 'Answers within',
  'requests.pauseMs': 'Pause after each',
  'requests.writeWith': 'It is written with',
  'requests.oneParameterAWrite': 'One parameter a write',
  requests: 'Requests',
  input: 'Its input is in',
  'scaling.pairs': 'Pairs',
  'scaling.countsAtFullRange': 'Counts at full range',
  'scaling.page': 'Page of the manual',
  scaling: 'Scaling',
  'command capture-upper': 'Command that captures the upper load',
  dependencies: 'What moves with another setting',
  panel: 'Entries at the front panel',
  terminals: 'Terminals',
  identity: 'Identity',
  ...Object.fromEntries(Object.entries(procedureWords).map(([key, words]) => [`procedures.${key}`, words])),
  ...Object.fromEntries(Object.entries(commandWords).map(([key, words]) => [`commands.${key}`, words])),
}

/** Parts of a register as the form that names one calls them. */
const registerWords: Readonly<Record<string, string>> = {
  name: 'Its name',
  channel: 'Channel',
  table: 'Table',
  address: 'Address',
  type: 'Type',
  order: 'Order of the bytes',
  field: 'Bits',
  bits: 'Status bits',
  decimals: 'Decimals',
  decimalsIn: 'Decimals',
  unit: 'Unit',
  options: 'Codes',
  limits: 'Lowest and highest it takes',
  'limits.from': 'Lowest it takes',
  'limits.to': 'Highest it takes',
  access: 'Access',
  role: 'What it is for',
  kept: 'A written value is kept',
  takesEffect: 'When it takes effect',
  readBack: 'How it is read back',
  evidence: 'Evidence',
  display: 'The display shows',
  words: 'What was read',
}

/** The words for a path: its own, else those of what it lies in. */
function saidOf(parts: readonly string[], words: Readonly<Record<string, string>>): string | undefined {
  for (let length = parts.length; length > 0; length--) {
    const said = words[parts.slice(0, length).join('.')]
    if (said) return said
  }
  return undefined
}

/** Where a register that is being named is wrong, in words of its form; `shape` is not a part that the form shows. */
export const registerPlace = (path: string): string => {
  const parts = path.split('.').filter((part) => part !== 'shape')
  return saidOf(parts, registerWords) ?? 'This register'
}

type Drawn = Pick<Draft, 'registers' | 'channels'>

/** Where a description is wrong, in words of the screen. */
export function problemPlace(path: string, draft: Drawn): string {
  const [group, index, ...rest] = path.split('.')
  const register = group === 'registers' ? draft.registers[Number(index)] : undefined
  if (!register) return saidOf(path.split('.'), fieldWords) ?? settingWords(path, draft.channels)
  const words = settingWords(registerKey(register), draft.channels)
  return rest.length === 0 ? words : `${words}, ${lowered(registerPlace(rest.join('.')))}`
}

const lowered = (words: string) => words.charAt(0).toLowerCase() + words.slice(1)

export const placeIn =
  (draft: Drawn) =>
  (path: string): string =>
    problemPlace(path, draft)

const inWords = (problems: readonly Problem[], place: (path: string) => string) =>
  problems.map((p) => `${place(p.path)}: ${p.message}`).join('; ')

/**
 * One sentence for what a request about a description came back with. Of a file that came from outside the path in it is told, since that
 * is where it has to be mended; of what stands on the screen, its place there.
 */
export const explainUnfit = (failure: Parameters<typeof explain>[0] | Unfit, place: (path: string) => string = (path) => path): string =>
  failure.kind === 'unfit' ? inWords(failure.problems, place) : explain(failure)

/** What is wrong with something before it is asked for: a host refuses by its own paths. Null where nothing is. */
export function explainWrong(problems: readonly Problem[], place: (path: string) => string): string | null {
  return problems.length === 0 ? null : inWords(problems, place)
}
