import { CloseButton } from '@mantine/core'
import type { LoadPath, ShareStep } from '../../../app/job/load-path.ts'
import { pointShare, stepShare } from '../../../app/loadpath/point-share.ts'
import { exactDecimal, exact as exactOf, toSignificant } from '../../../app/quantity/exact.ts'
import { numberText } from '../../figures/number-text.ts'
import { ChoiceField } from '../../parts/choice-field.tsx'
import { NumberField } from '../../parts/edit-field.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointChoice, usePointEdit } from '../../state/use-point-edit.ts'
import { Term } from '../../terms/term.tsx'

type Kind = ShareStep['kind']
type Field = { key: string; label: string; whole?: true }

/** Each way that a part of the force comes about: its words, what it asks for, and what it starts with. */
const kinds: Record<Kind, { name: string; fields: Field[]; fresh: ShareStep }> = {
  lever: {
    name: 'Lever or pivot',
    fields: [
      { key: 'loadArm', label: 'load arm' },
      { key: 'sensorArm', label: 'sensor arm' },
    ],
    fresh: { kind: 'lever', loadArm: '1', sensorArm: '1' },
  },
  reeving: {
    name: 'Reeving, sensor in one part',
    fields: [{ key: 'parts', label: 'parts of rope', whole: true }],
    fresh: { kind: 'reeving', parts: 2 },
  },
  supports: {
    name: 'Supports, some on sensors',
    fields: [
      { key: 'onSensors', label: 'on sensors', whole: true },
      { key: 'all', label: 'of all', whole: true },
    ],
    fresh: { kind: 'supports', onSensors: 1, all: 2 },
  },
  angle: {
    name: 'Sensor at an angle to the force',
    fields: [{ key: 'degrees', label: 'degrees' }],
    fresh: { kind: 'angle', degrees: '0' },
  },
  legs: {
    name: 'Inclined legs',
    fields: [
      { key: 'onSensors', label: 'legs with sensor', whole: true },
      { key: 'all', label: 'of all', whole: true },
      { key: 'degrees', label: 'degrees to vertical' },
    ],
    fresh: { kind: 'legs', onSensors: 1, all: 2, degrees: '30' },
  },
  sheave: { name: 'Sheave, rope turned', fields: [{ key: 'turned', label: 'degrees turned' }], fresh: { kind: 'sheave', turned: '180' } },
}
const kindIds = Object.keys(kinds) as Kind[]

/** Percent of the load that the sensors together carry, as far as it is worth. */
export function shareText(path: LoadPath): string {
  const percent = pointShare(path).mul(exactOf('100'))
  const plain = exactDecimal(percent)
  return plain !== undefined && plain.length < 9 ? plain : toSignificant(percent, 6)
}

/** Share of the load on the sensors: typed as percent, or the product of pivots, levers, reeving and angles. */
export function ShareSteps({ view }: { view: PointView }) {
  const { point, job } = view
  const { loadPath } = point
  const edit = usePointEdit(point.id)
  const { put } = usePointChoice(point.id)
  const steps = loadPath.shareSteps ?? []
  const withSteps = (next: readonly ShareStep[]) => {
    const { shareSteps: _before, ...rest } = loadPath
    return { loadPath: next.length > 0 ? { ...rest, shareSteps: [...next] } : rest }
  }
  return (
    <>
      {steps.length === 0 ? (
        <NumberField
          label="Share on the sensors"
          term="share on the sensors"
          value={loadPath.sharePercent}
          unit="%"
          edit={edit}
          change={(sharePercent) => ({ loadPath: { ...loadPath, sharePercent } })}
          beside="of the load, all sensors together; typed"
        />
      ) : (
        <p className="share-sum">
          <span className="second">
            <Term of="share on the sensors">Share on the sensors</Term>
          </span>
          <span>
            <b>{numberText(shareText(loadPath), job.decimalSign)}</b> <span className="unit">%</span>{' '}
            <span className="second small">from {steps.length === 1 ? 'one step' : `${steps.length} steps`}</span>
          </span>
        </p>
      )}
      {steps.map((step, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a step has no id of its own; its place in the list is what an edit names
        <fieldset key={i} className="bare step-row" aria-label={kinds[step.kind].name}>
          <span className="step-name">{kinds[step.kind].name}</span>
          {kinds[step.kind].fields.map((field) => (
            <span key={field.key} className="step-field">
              <NumberField
                bare
                label={`${kinds[step.kind].name}, ${field.label}`}
                value={String((step as Record<string, unknown>)[field.key])}
                unit={null}
                edit={edit}
                change={(typed) =>
                  withSteps(steps.map((s, j) => (j === i ? ({ ...s, [field.key]: field.whole ? Number(typed) : typed } as ShareStep) : s)))
                }
              />
              <span className="second small">{field.label}</span>
            </span>
          ))}
          <span className="second">× {numberText(toSignificant(stepShare(step), 4), job.decimalSign)}</span>
          <CloseButton
            size="sm"
            aria-label={`Remove ${kinds[step.kind].name}`}
            onClick={() => put(withSteps(steps.filter((_, j) => j !== i)))}
          />
        </fieldset>
      ))}
      <ChoiceField
        label="Add to the load path"
        value=""
        options={[{ value: '' as const, label: 'choose…' }, ...kindIds.map((kind) => ({ value: kind, label: kinds[kind].name }))]}
        onChoose={(kind) => (kind === '' ? undefined : put(withSteps([...steps, kinds[kind].fresh])))}
        beside={
          steps.some((s) => s.kind !== 'supports')
            ? 'Without friction: sheaves and knife edges take some percent. Check with a known load.'
            : undefined
        }
      />
    </>
  )
}
