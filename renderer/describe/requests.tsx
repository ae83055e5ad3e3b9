import { Button, Checkbox } from '@mantine/core'
import { fail } from '../../app/result.ts'
import { sentence } from '../../app/sentence.ts'
import { ChoiceField } from '../parts/choice-field.tsx'
import { useRequest, useTopic } from '../state/host-context.tsx'
import type { Described } from './described.ts'
import { type EditDraft, whole } from './edit-draft.ts'
import { evidenceWords } from './evidence-words.ts'
import { KeptField } from './kept-field.tsx'
import { lineText, readLine } from './line-words.ts'
import { explainUnfit, placeIn } from './problem-text.ts'

/** What the line is set to, and what one request may ask for; the longest read is found by reading. */
export function Requests({ described, edit, readable }: { described: Described; edit: EditDraft; readable: number | null }) {
  const { draft, unit } = described
  const { requests, serial } = draft
  const job = useTopic('job')
  const probe = useRequest('registers.probe-longest')
  const bus = job?.buses.find((b) => b.id === unit?.busId)
  const format = bus && 'format' in bus.link ? bus.link.format : undefined
  const change = (part: Partial<typeof requests>) => edit({ requests: { ...requests, ...part } })
  const find = async () => {
    if (!unit || readable === null) return
    const answer = await probe.ask({ ...unit, table: 'holding', from: readable })
    if (!answer.ok) return
    const { longest, refused } = answer.value
    const until = refused ? `; ${refused.count} were not${refused.perhapsNoMoreRegisters ? ', perhaps since there are no more' : ''}` : ''
    void change({
      longestRead: longest,
      evidence: 'hardware',
      why: `${longest} registers from ${readable} were answered in one read${until}.`,
    })
  }
  return (
    <>
      <KeptField
        label="Line it is delivered with"
        stacked
        shown={serial ? lineText(serial) : ''}
        placeholder="e.g. 9600 baud, no parity, 1 stop bit, unit 1"
        keep={(text) => {
          const line = readLine(text)
          if (!line) return Promise.resolve(fail('Write e.g. 19200 baud, even parity, 1 stop bit, unit 1'))
          return edit({ serial: { ...line, evidence: 'inferred', why: 'Typed while describing.' } })
        }}
      />
      {format && unit && !serial && unit.unit >= 1 && unit.unit <= 247 ? (
        <Button
          onClick={() =>
            void edit({ serial: { ...format, unit: unit.unit, evidence: 'hardware', why: 'It answered with these settings.' } })
          }
        >
          Take {lineText({ ...format, unit: unit.unit })}, as it answers now
        </Button>
      ) : null}
      <KeptField
        label="Longest read, registers"
        shown={String(requests.longestRead)}
        keep={(n) => whole(n, (longestRead) => change({ longestRead, evidence: 'inferred', why: 'Typed while describing.' }))}
        beside={requests.why ?? (requests.evidence === 'inferred' ? undefined : `${sentence(evidenceWords[requests.evidence])}.`)}
      />
      <Button
        loading={probe.running}
        disabled={!unit || readable === null}
        title={readable === null ? 'Look at registers that are there first' : undefined}
        onClick={() => void find()}
      >
        {readable === null ? 'Find the longest read (look at registers first)' : `Find the longest read from ${readable} by reading`}
      </Button>
      {probe.failure ? <p className="lost">{explainUnfit(probe.failure, placeIn(draft))}</p> : null}
      <KeptField
        label="Longest write, registers"
        shown={String(requests.longestWrite)}
        keep={(n) => whole(n, (longestWrite) => change({ longestWrite }))}
      />
      <KeptField label="Answers within, ms" shown={String(requests.answerMs)} keep={(n) => whole(n, (answerMs) => change({ answerMs }))} />
      <KeptField label="Pause after each, ms" shown={String(requests.pauseMs)} keep={(n) => whole(n, (pauseMs) => change({ pauseMs }))} />
      <ChoiceField
        label="It is written with"
        value={requests.writeWith}
        options={[
          { value: 'either', label: 'function 06 or 16' },
          { value: 'fc06', label: 'function 06 only' },
          { value: 'fc16', label: 'function 16 only' },
        ]}
        onChoose={(writeWith) => writeWith !== '' && void change({ writeWith })}
      />
      <Checkbox
        label="One parameter a write"
        checked={requests.oneParameterAWrite}
        onChange={(event) => void change({ oneParameterAWrite: event.currentTarget.checked })}
      />
    </>
  )
}
