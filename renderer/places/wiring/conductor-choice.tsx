import type { ConductorText } from '../../../app/job/wiring.ts'
import { numberText } from '../../figures/number-text.ts'
import { ChoiceField } from '../../parts/choice-field.tsx'
import { useDecimalSign } from '../../parts/decimal-sign.ts'
import type { TermName } from '../../terms/terms.ts'

const gauges = [16, 18, 20, 22, 23, 24, 25, 26, 28, 30]
const sections = ['0.14', '0.22', '0.25', '0.34', '0.5', '0.75', '1', '1.5', '2.5', '4']
const makes = [
  { value: 'flexible', label: 'flexible, plain' },
  { value: 'flexible-tinned', label: 'flexible, tinned' },
  { value: 'solid-or-stranded', label: 'solid or stranded, plain' },
  { value: 'solid-or-stranded-tinned', label: 'solid or stranded, tinned' },
] as const
type Make = (typeof makes)[number]['value']

const keyOf = (c: ConductorText | undefined) => (c === undefined ? '' : c.kind === 'awg' ? `awg ${c.gauge}` : `mm2 ${c.section}`)

export const conductorText = (c: ConductorText, sign: '.' | ',') =>
  c.kind === 'awg' ? `AWG ${c.gauge}` : `${numberText(c.section, sign)} mm²`

/** Wire gauge or cross-section; with a section also how it is made. The empty choice is no cable. */
export function ConductorChoice(props: {
  label: string
  value: ConductorText | undefined
  none: string
  term?: TermName
  onChoose: (conductor: ConductorText | undefined) => void
}) {
  const sign = useDecimalSign()
  const { label, term, value, none, onChoose } = props
  const make = value?.kind === 'square-millimetres' ? (`${value.stranding}${value.tinned ? '-tinned' : ''}` as Make) : 'flexible'
  const choose = (key: string, made: Make = make) => {
    const [kind, size = ''] = key.split(' ')
    if (kind === 'awg') return onChoose({ kind: 'awg', gauge: Number(size) })
    if (kind !== 'mm2') return onChoose(undefined)
    onChoose({
      kind: 'square-millimetres',
      section: size,
      stranding: made.startsWith('flexible') ? 'flexible' : 'solid-or-stranded',
      tinned: made.endsWith('tinned'),
    })
  }
  return (
    <>
      <ChoiceField
        label={label}
        term={term}
        value={keyOf(value)}
        options={[
          { value: '', label: none },
          ...sections.map((s) => ({ value: `mm2 ${s}`, label: `${numberText(s, sign)} mm²` })),
          ...gauges.map((g) => ({ value: `awg ${g}`, label: `AWG ${g}` })),
        ]}
        onChoose={(key) => choose(key)}
      />
      {value?.kind === 'square-millimetres' ? (
        <ChoiceField label="made" value={make} options={makes} onChoose={(made) => choose(keyOf(value), made === '' ? 'flexible' : made)} />
      ) : null}
    </>
  )
}
