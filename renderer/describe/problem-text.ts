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
  'source.revision': 'Revision of the document',
  channels: 'Channels',
  serial: 'Line it is delivered with',
  'requests.longestRead': 'Longest read',
  'requests.longestWrite': 'Longest write',
  'requests.answerMs': 'Answers within',
  'requests.pauseMs': 'Pause after each',
  requests: 'Requests',
  input: 'Its input',
  scaling: 'Scaling',
  identity: 'Identity',
  ...Object.fromEntries(Object.entries(procedureWords).map(([key, words]) => [`procedures.${key}`, words])),
  ...Object.fromEntries(Object.entries(commandWords).map(([key, words]) => [`commands.${key}`, words])),
}

/** Where a description is wrong, in words of the screen; a path that has none stays as it is. */
export function problemPlace(path: string, draft: Pick<Draft, 'registers' | 'channels'>): string {
  const parts = path.split('.')
  const [group, index, ...rest] = parts
  const register = group === 'registers' ? draft.registers[Number(index)] : undefined
  if (register) return [settingWords(registerKey(register), draft.channels), ...rest.slice(0, 1)].join(', ')
  for (let length = parts.length; length > 0; length--) {
    const said = fieldWords[parts.slice(0, length).join('.')]
    if (said) return said
  }
  return settingWords(path, draft.channels)
}

/**
 * One sentence for what a request about a description came back with. Of a file that came from outside the path in it is told, since that
 * is where it has to be mended; of a draft, the place on the screen.
 */
export const explainUnfit = (failure: Parameters<typeof explain>[0] | Unfit, draft?: Pick<Draft, 'registers' | 'channels'>): string =>
  failure.kind === 'unfit'
    ? failure.problems.map((p) => `${draft ? problemPlace(p.path, draft) : p.path}: ${p.message}`).join('; ')
    : explain(failure)
