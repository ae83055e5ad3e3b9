import { draftChange } from '../../app/contract/describe-calls.ts'
import { problemsIn } from '../../app/profile/plain-words.ts'
import { type Register, registerKey } from '../../app/profile/schema.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { fail, ok } from '../../app/result.ts'
import { ChoiceField } from '../parts/choice-field.tsx'
import { useRequest } from '../state/host-context.tsx'
import type { Described } from './described.ts'
import { type EditDraft, whole } from './edit-draft.ts'
import { evidenceWords } from './evidence-words.ts'
import { KeptField } from './kept-field.tsx'
import { explainUnfit, explainWrong, placeIn } from './problem-text.ts'
import { Procedures } from './procedures.tsx'
import { Requests } from './requests.tsx'
import { shapeText } from './shape-text.ts'

/** The profile under construction as lines to be read, each with its evidence; what the bus cannot show is typed here. */
export function ProfileSoFar({ described, readable }: { described: Described; readable: number | null }) {
  const { draft } = described
  const editing = useRequest('description.edit')
  const edit: EditDraft = async (change) => {
    const wrong = explainWrong(problemsIn(draftChange, change), placeIn(draft))
    if (wrong) return fail(wrong)
    const answer = await editing.ask({ descriptionId: described.id, revision: described.revision, change })
    return answer.ok ? ok(null) : fail(explainUnfit(answer.failure, placeIn(draft)))
  }
  return (
    <>
      <section className="group">
        <h2>Registers {draft.registers.length > 0 ? <span className="second">{draft.registers.length}</span> : null}</h2>
        {draft.registers.length === 0 ? (
          <p className="second">None yet. Find the reading first: type what the display shows, look, and choose the number that agrees.</p>
        ) : (
          <Registers described={described} />
        )}
      </section>
      <section className="group">
        <h2>Scaling</h2>
        <Scaling draft={draft} edit={edit} />
      </section>
      <section className="group">
        <h2>Line and requests</h2>
        <Requests described={described} edit={edit} readable={readable} />
      </section>
      <section className="group">
        <h2>Commands and procedures</h2>
        <Procedures draft={draft} edit={edit} />
      </section>
      <section className="group">
        <h2>Name and source</h2>
        <KeptField label="Model" shown={draft.name} keep={(name) => edit({ name })} />
        <KeptField label="Id, also the file's name" shown={draft.id} keep={(id) => edit({ id })} />
        <KeptField label="Document" shown={draft.source.document} keep={(document) => edit({ source: { ...draft.source, document } })} />
        <KeptField
          label="Its revision"
          shown={draft.source.revision}
          keep={(revision) => edit({ source: { ...draft.source, revision } })}
        />
        <KeptField label="Channels" shown={String(draft.channels)} keep={(n) => whole(n, (channels) => edit({ channels }))} />
        <KeptField label="What else is to be known" shown={draft.about} keep={(about) => edit({ about })} lines />
      </section>
    </>
  )
}

function Registers({ described }: { described: Described }) {
  const { draft, id: descriptionId, revision } = described
  const drop = useRequest('description.drop-register')
  return (
    <>
      <ul className="found-list">
        {draft.registers.map((r) => (
          <li key={registerKey(r)} title={r.why}>
            <span className="line">
              <b>{settingWords(registerKey(r), draft.channels)}</b>
              <span>
                {r.table} {r.address}
              </span>
            </span>
            <span className="line second small">
              {shapeText({ ...r, decimals: typeof r.decimals === 'number' ? r.decimals : undefined })}
            </span>
            <span className="line second small">
              <span>
                {[unitWords(r), accessWords(r), evidenceWords[r.evidence] + (r.page ? `, page ${r.page}` : '')].filter(Boolean).join(' · ')}
              </span>
              <button
                type="button"
                className="plain-link"
                aria-label={`Drop ${settingWords(registerKey(r), draft.channels)}`}
                onClick={() => void drop.ask({ descriptionId, revision, key: registerKey(r) })}
              >
                drop
              </button>
            </span>
          </li>
        ))}
      </ul>
      {drop.failure ? <p className="lost">{explainUnfit(drop.failure, placeIn(draft))}</p> : null}
    </>
  )
}

const unitWords = (r: Register): string =>
  r.options ? r.options.map((o) => o.means).join(', ') : typeof r.unit === 'object' ? 'unit from its register' : (r.unit ?? '')
const accessWords = (r: Register): string => {
  if (r.access === 'read') return 'read only'
  const limits = r.limits ? `, ${r.limits.from} to ${r.limits.to}` : ''
  return (r.access === 'write' ? 'written only' : r.kept === 'after-save' ? 'can be written, lasts once saved' : 'can be written') + limits
}

type Scaling = NonNullable<Described['draft']['scaling']>
const models: readonly { value: Scaling['model']; label: string }[] = [
  { value: 'two-pairs', label: 'two pairs of signal and reading' },
  { value: 'pair-table', label: 'a table of pairs' },
  { value: 'slope-intercept', label: 'slope and intercept' },
  { value: 'capacity-rated-output', label: 'capacity and rated output' },
  { value: 'counts', label: 'two pairs of counts and reading' },
  { value: 'applied-load-capture', label: 'learns an applied load by command' },
  { value: 'front-panel-entry', label: 'typed at the front panel only' },
]

function Scaling({ draft, edit }: { draft: Described['draft']; edit: EditDraft }) {
  const { scaling } = draft
  const page = scaling?.page ?? ''
  const said = (model: Scaling['model'], on: string): Scaling => {
    const fact =
      on === ''
        ? { evidence: 'inferred' as const, why: 'Said while describing; no page named.' }
        : { evidence: 'manual' as const, page: on }
    if (model === 'pair-table') return { model, pairs: scaling?.model === model ? scaling.pairs : 5, pairAboveMaximum: false, ...fact }
    if (model === 'counts')
      return {
        model,
        countsAtFullRange: scaling?.model === model ? scaling.countsAtFullRange : 1_000_000,
        pairAboveMaximum: false,
        ...fact,
      }
    return model === 'two-pairs' ? { model, pairAboveMaximum: false, ...fact } : { model, ...fact }
  }
  return (
    <>
      <ChoiceField
        label="It is scaled by"
        stacked
        value={scaling?.model ?? ''}
        options={[{ value: '' as const, label: 'not said yet' }, ...models]}
        onChoose={(model) => model !== '' && void edit({ scaling: said(model, page) })}
      />
      {scaling?.model === 'pair-table' ? (
        <KeptField
          label="Pairs"
          shown={String(scaling.pairs)}
          keep={(n) => whole(n, (pairs) => edit({ scaling: { ...scaling, pairs } }))}
        />
      ) : null}
      {scaling?.model === 'counts' ? (
        <KeptField
          label="Counts at full range"
          shown={String(scaling.countsAtFullRange)}
          keep={(n) => whole(n, (countsAtFullRange) => edit({ scaling: { ...scaling, countsAtFullRange } }))}
        />
      ) : null}
      {scaling ? (
        <KeptField label="Page of the manual" shown={page} keep={(on) => edit({ scaling: { ...scaling, ...said(scaling.model, on) } })} />
      ) : null}
      <ChoiceField
        label="Its input is in"
        value={draft.input?.signalUnit ?? ''}
        options={[
          { value: '', label: 'not stated' },
          { value: 'mV/V', label: 'mV/V, ratiometric' },
          { value: 'mV', label: 'mV, absolute' },
        ]}
        onChoose={(signalUnit) =>
          signalUnit !== '' &&
          void edit({ input: { ...(draft.input ?? { evidence: 'inferred' }), signalUnit, ratiometric: signalUnit === 'mV/V' } })
        }
      />
    </>
  )
}
