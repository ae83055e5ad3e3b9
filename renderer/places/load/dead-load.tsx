import { Button, CloseButton } from '@mantine/core'
import type { StructurePart } from '../../../app/job/load-path.ts'
import { units } from '../../../app/quantity/units.ts'
import { alwaysOn } from '../../../app/scaling/always-on.ts'
import { explainScalingFailure } from '../../../app/scaling/scaling-failure.ts'
import { decimalsOf, fixedText } from '../../figures/number-text.ts'
import { NumberField, QuantityField, TextField } from '../../parts/edit-field.tsx'
import type { PointView } from '../../state/point-view.ts'
import { usePointChoice, usePointEdit } from '../../state/use-point-edit.ts'
import { Term } from '../../terms/term.tsx'

const loads = ['mass', 'force'] as const

/** What always lies on the sensors: typed as one amount, or summed from the parts of the structure. */
export function DeadLoad({ view }: { view: PointView }) {
  const { point, job } = view
  const { loadPath } = point
  const edit = usePointEdit(point.id)
  const { put } = usePointChoice(point.id)
  const parts = loadPath.structure ?? []
  const withParts = (next: readonly StructurePart[]) => {
    const { structure: _before, ...rest } = loadPath
    return { loadPath: next.length > 0 ? { ...rest, structure: [...next] } : rest }
  }
  const replace = (i: number, change: Partial<StructurePart>) => withParts(parts.map((p, j) => (j === i ? { ...p, ...change } : p)))
  const sum = alwaysOn(point)
  const { deadLoad: _dead, ...without } = loadPath
  return (
    <>
      {parts.length === 0 ? (
        <QuantityField
          label="Dead load"
          term="dead load"
          value={loadPath.deadLoad}
          dimensions={loads}
          unit={point.unit}
          edit={edit}
          change={(deadLoad) => ({ loadPath: { ...loadPath, deadLoad } })}
          clear={() => ({ loadPath: without })}
          beside={loadPath.deadLoad ? 'structure, vessel, fittings; typed' : undefined}
        />
      ) : (
        <p className="share-sum">
          <span className="second">
            <Term of="dead load">Dead load</Term>
          </span>
          <span>
            {sum.ok ? <b>{fixedText(sum.value.load.valueOf(), decimalsOf(point.scaleInterval), job.decimalSign)}</b> : '–'}{' '}
            <span className="unit">{point.unit}</span> <span className="second small">sum of the structure</span>
          </span>
        </p>
      )}
      {parts.map((part, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a part has no id of its own; its place in the list is what an edit names
        <fieldset key={i} className="bare step-row" aria-label={`Part ${i + 1} of the structure`}>
          <TextField bare label={`Part ${i + 1}, name`} value={part.name} edit={edit} change={(name) => replace(i, { name })} />
          <QuantityField
            bare
            label={`Part ${i + 1}, load`}
            value={part.load}
            dimensions={loads}
            unit={point.unit}
            edit={edit}
            change={(load) => replace(i, { load })}
          />
          <NumberField
            bare
            label={`Part ${i + 1}, part carried`}
            value={part.percent ?? '100'}
            unit="%"
            edit={edit}
            change={(percent) => replace(i, { percent })}
          />
          <CloseButton size="sm" aria-label={`Remove part ${i + 1}`} onClick={() => put(withParts(parts.filter((_, j) => j !== i)))} />
        </fieldset>
      ))}
      <div className="button-row">
        <Button
          onClick={() =>
            put(
              withParts([
                ...parts,
                { name: '', load: parts.length === 0 && loadPath.deadLoad ? loadPath.deadLoad : { value: '0', unit: point.unit } },
              ]),
            )
          }
        >
          Add a part of the structure
        </Button>
        <span className="second small">
          {parts.length === 0
            ? 'vessel, platform, agitator, pipes'
            : units[point.unit].dimension === 'mass'
              ? 'percent: what of it the point carries'
              : ''}
        </span>
      </div>
      {sum.ok ? null : <p className="lost">{explainScalingFailure(sum.failure)}</p>}
    </>
  )
}
