import { Button, Checkbox, NativeSelect, TextInput } from '@mantine/core'
import { type FormEvent, useState } from 'react'
import { type Found, foundRegister } from '../../app/profile/draft.ts'
import { meaningOf, meanings } from '../../app/profile/meanings.ts'
import { problemsIn } from '../../app/profile/plain-words.ts'
import { type Register, registerKey } from '../../app/profile/schema.ts'
import { joinWords } from '../../app/profile/words.ts'
import { parseNumber } from '../../app/quantity/parse.ts'
import { type UnitId, unitIds } from '../../app/quantity/units.ts'
import { numberText } from '../figures/number-text.ts'
import { useDecimalSign } from '../parts/decimal-sign.ts'
import { useRequest } from '../state/host-context.tsx'
import type { Described } from './described.ts'
import { explainUnfit, explainWrong, registerPlace } from './problem-text.ts'
import type { Choice } from './register-viewer.tsx'
import { hexText, shapeText, tableWords } from './shape-text.ts'

const ownName = 'own'
const groups = ['Reading and signal', 'Scaling values', 'Settings', 'Identity', 'Control'] as const

/** "0=kg; 1=t" as codes and what they stand for; null where it is not written so. */
function optionsOf(text: string): { raw: number; means: string }[] | null {
  const parts = text.split(';').map((part) => /^\s*(-?\d+)\s*=\s*(.+?)\s*$/.exec(part))
  return parts.every((p) => p !== null) ? parts.map((p) => ({ raw: Number(p[1]), means: p[2] ?? '' })) : null
}

/** Says what was found: its meaning, unit, decimals, limits. It becomes a register of the profile with evidence "hardware". */
export function NameFound({ described, choice, onDone }: { described: Described; choice: Choice; onDone: () => void }) {
  const sign = useDecimalSign()
  const { draft } = described
  const { candidate, words, table, others } = choice
  const naming = useRequest('description.name-found')
  const editing = useRequest('description.edit')
  const free = meanings.find((m) => !draft.registers.some((r) => r.name === m.name))
  const [chosen, setChosen] = useState(free?.name ?? ownName)
  const [typedName, setTypedName] = useState('')
  const [channel, setChannel] = useState('1')
  const [display, setDisplay] = useState(choice.display ?? candidate.text ?? '')
  const [decimals, setDecimals] = useState(String(candidate.decimals ?? 0))
  const [unit, setUnit] = useState('')
  const [options, setOptions] = useState('')
  const [lowest, setLowest] = useState('')
  const [highest, setHighest] = useState('')
  const [keptAs, setKept] = useState<Register['kept'] | ''>('')
  const [same, setSame] = useState(false)
  const [problem, setProblem] = useState<string | null>(null)

  const name = chosen === ownName ? typedName.trim() : chosen
  const meaning = meaningOf(name)
  const { role = 'setting', perChannel = true } = meaning ?? {}
  const readOnly = table === 'input' || table === 'discrete'
  const access = readOnly || role === 'live' || role === 'identity' ? 'read' : 'read-write'
  const kept = keptAs || (role === 'live' ? 'never' : 'at-once')
  const codes = options.trim() === '' ? undefined : optionsOf(options)
  const decimalsRegister = draft.registers.find((r) => r.name === 'reading.decimals')
  const unitRegister = draft.registers.find((r) => r.name === 'reading.unit')
  const inRegister = decimals === 'register'

  const put = async (event: FormEvent) => {
    event.preventDefault()
    const say = (why: string) => setProblem(why)
    setProblem(null)
    if (codes === null) return say('Codes: write them as pairs, e.g. 0=kg; 1=t')
    const shown = codes ? display.trim() : decimal(display, sign)
    if (shown === null || shown === '') return say('The display shows: type its number, or the word that the code stands for.')
    const limits = lowest === '' && highest === '' ? undefined : { from: decimal(lowest, sign), to: decimal(highest, sign) }
    if (limits && (limits.from === null || limits.to === null))
      return say('Lowest and highest it takes: give both as numbers, or leave both empty.')
    if (unit !== '' && unit !== 'register' && !isUnit(unit)) return say(`Unit: "${unit}" is no known unit: write e.g. kg, kN, mV/V, s.`)
    const { type, order, address } = candidate
    const places = inRegister ? (candidate.decimals ?? 0) : Number(decimals)
    const found: Found = {
      ...{ name, table, access, role, kept, words, display: shown },
      ...(perChannel && draft.channels > 0 ? { channel: Number(channel) } : {}),
      ...(unit === '' || codes ? {} : { unit: unit === 'register' ? { register: 'reading.unit' } : (unit as UnitId) }),
      ...(codes ? { options: codes } : {}),
      ...(limits?.from && limits.to ? { limits: { from: limits.from, to: limits.to } } : {}),
      ...(inRegister ? { decimalsIn: 'reading.decimals' } : {}),
      shape: { address, type, order, ...(type === 'f32' || codes || places === 0 ? {} : { decimals: places }) },
    }
    const wrong = explainWrong(problemsIn(foundRegister, found), registerPlace)
    if (wrong) return say(wrong)
    const answer = await naming.ask({ descriptionId: described.id, revision: described.revision, found })
    if (!answer.ok) return
    if (same && role === 'identity') {
      const test = { register: name, equals: joinWords(words, order), otherwise: 'contradicted' as const, evidence: 'hardware' as const }
      const { identity } = draft
      const rest = identity.tests.filter((t) => t.register !== name)
      const compareWithPanel = [...new Set([...identity.compareWithPanel, name])].slice(0, 3)
      const why = 'Said while describing: every unit of this model holds it.'
      const done = await editing.ask({
        descriptionId: described.id,
        revision: answer.value.revision,
        change: { identity: { tests: [...rest, { ...test, why }], compareWithPanel } },
      })
      if (!done.ok) return
    }
    onDone()
  }
  const failure = naming.failure ?? editing.failure

  return (
    <form className="name-found" onSubmit={put} aria-label={`Name address ${candidate.address}`}>
      <h2>
        Address {candidate.address} as {shapeText(candidate)}
      </h2>
      <p className="second">
        <span className="hex">{words.map(hexText).join(' ')}</span> (hex) in the {tableWords[table]}; that makes{' '}
        {candidate.text === null ? 'no number' : numberText(candidate.text, sign)}.
      </p>
      {others.length > 0 ? (
        <p className="attention">
          {others.length === 1 ? `Address ${others[0]} agrees` : `${others.length} other addresses agree`} as well. Put another load on and
          look again before one is taken.
        </p>
      ) : null}
      <div className="fields">
        <NativeSelect label="It is" value={chosen} onChange={(event) => setChosen(event.currentTarget.value)}>
          {groups.map((group) => (
            <optgroup key={group} label={group}>
              {meanings
                .filter((m) => m.group === group)
                .map((m) => (
                  <option key={m.name} value={m.name}>
                    {m.words}
                  </option>
                ))}
            </optgroup>
          ))}
          <option value={ownName}>another meaning…</option>
        </NativeSelect>
        {chosen === ownName ? (
          <TextInput
            label="Its name"
            placeholder="e.g. setpoint.1.value"
            value={typedName}
            onChange={(event) => setTypedName(event.currentTarget.value)}
          />
        ) : null}
        <TextInput label="The display shows" value={display} onChange={(event) => setDisplay(event.currentTarget.value)} />
        {perChannel && draft.channels > 1 ? (
          <TextInput label="Channel" value={channel} onChange={(event) => setChannel(event.currentTarget.value)} />
        ) : null}
        {candidate.type === 'f32' || codes ? null : (
          <NativeSelect
            label="Decimals"
            value={decimals}
            data={[
              ...Array.from({ length: 10 }, (_, n) => ({ value: String(n), label: `always ${n}` })),
              ...(decimalsRegister ? [{ value: 'register', label: 'as "Decimals of the reading" says' }] : []),
            ]}
            onChange={(event) => setDecimals(event.currentTarget.value)}
          />
        )}
        {codes ? null : unitRegister && (meaning?.unit ?? 'none') === 'reading' ? (
          <NativeSelect
            label="Unit"
            value={unit}
            data={['', 'register', 'kg', 't', 'lb', 'N', 'kN', 'bar', 'mV/V', 'mV'].map((u) => ({
              value: u,
              label: u === '' ? 'not stated' : u === 'register' ? 'as "Unit of the reading" says' : u,
            }))}
            onChange={(event) => setUnit(event.currentTarget.value)}
          />
        ) : (
          <TextInput label="Unit" placeholder="e.g. kg, mV/V; none" value={unit} onChange={(event) => setUnit(event.currentTarget.value)} />
        )}
        {role === 'setting' ? (
          <>
            <TextInput label="Lowest it takes" value={lowest} onChange={(event) => setLowest(event.currentTarget.value)} />
            <TextInput label="Highest it takes" value={highest} onChange={(event) => setHighest(event.currentTarget.value)} />
            <NativeSelect
              label="A written value is kept"
              value={kept}
              data={[
                { value: 'at-once', label: 'at once' },
                { value: 'after-save', label: 'after saving' },
                { value: 'never', label: 'until power goes' },
              ]}
              onChange={(event) => setKept(event.currentTarget.value as Register['kept'])}
            />
          </>
        ) : null}
        {candidate.type === 'f32' || role === 'live' ? null : (
          <TextInput
            label="Codes, if it is no number"
            placeholder="0=kg; 1=t"
            value={options}
            onChange={(event) => setOptions(event.currentTarget.value)}
          />
        )}
      </div>
      {role === 'identity' ? (
        <Checkbox
          label="Every unit of this model holds the same: another value proves another model"
          checked={same}
          onChange={(event) => setSame(event.currentTarget.checked)}
        />
      ) : null}
      {problem ? <p className="lost">{problem}</p> : null}
      {failure ? <p className="lost">{explainUnfit(failure, registerPlace)}</p> : null}
      {draft.registers.some((r) => registerKey(r) === (perChannel ? `${name}@${channel}` : name)) ? (
        <p className="attention">It takes the place of the one that has this meaning already.</p>
      ) : null}
      <div className="button-row">
        <Button type="submit" loading={naming.running || editing.running} disabled={name === ''}>
          Put into the profile
        </Button>
        <Button onClick={onDone}>Cancel</Button>
      </div>
    </form>
  )
}

const isUnit = (text: string): text is UnitId => unitIds.some((id) => id === text)

function decimal(typed: string, sign: '.' | ','): string | null {
  const read = parseNumber(typed.trim(), sign)
  return read.ok ? read.value : null
}
