import { stepExamples, stepsFromText, stepText } from '../../app/profile/step-text.ts'
import { fail, type Result } from '../../app/result.ts'
import type { Described } from './described.ts'
import type { EditDraft } from './edit-draft.ts'
import { KeptField } from './kept-field.tsx'
import { commandWords, procedureWords } from './problem-text.ts'

/** What is done by writing: typed, since nothing is written here to find it out. */
export function Procedures({ draft, edit }: { draft: Described['draft']; edit: EditDraft }) {
  const fact = { evidence: 'inferred' as const, why: 'Typed while describing; tried on no unit yet.' }
  const keep = async (
    text: string,
    put: (steps: ReturnType<typeof stepsFromText> & { ok: true }) => ReturnType<EditDraft>,
  ): Promise<Result<null, string>> => {
    const steps = stepsFromText(text)
    return steps.ok ? put(steps) : fail(`Line ${steps.failure.line}: ${steps.failure.why}`)
  }
  const textOf = (steps: readonly Parameters<typeof stepText>[0][] | undefined) => (steps ?? []).map(stepText).join('\n')
  return (
    <details>
      <summary>Steps, one a line: {stepExamples.slice(0, 2).join('; ')}</summary>
      <p className="second small">
        Also: {stepExamples.slice(2).join('; ')}. Nothing is sent from here; a step is tried when settings are written for the first time.
      </p>
      {Object.entries(procedureWords).map(([key, label]) => {
        const name = key as keyof typeof procedureWords
        const { [name]: held, ...others } = draft.procedures
        return (
          <KeptField
            key={key}
            label={label}
            shown={textOf(held?.steps)}
            lines
            keep={(text) =>
              keep(text, ({ value }) =>
                edit({ procedures: value.length === 0 ? others : { ...others, [name]: { steps: value, ...fact } } }),
              )
            }
          />
        )
      })}
      {Object.entries(commandWords).map(([key, label]) => {
        const name = key as keyof typeof commandWords
        const { [name]: held, ...others } = draft.commands
        return (
          <KeptField
            key={key}
            label={label}
            shown={textOf(held?.steps)}
            lines
            keep={(text) =>
              keep(text, ({ value }) => edit({ commands: value.length === 0 ? others : { ...others, [name]: { steps: value, ...fact } } }))
            }
          />
        )
      })}
    </details>
  )
}
