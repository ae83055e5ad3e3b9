import { Button } from '@mantine/core'
import type { Job } from '../../app/job/schema.ts'
import { Panel } from '../parts/panel.tsx'
import { below, closePanel } from '../table/below.ts'
import { AddPoint } from './add-point.tsx'
import { LikeAnother } from './like-another.tsx'
import { SheetImport } from './sheet-import.tsx'

export type AddWay = 'add' | 'like' | 'import'
const ways: readonly { id: AddWay; label: string }[] = [
  { id: 'add', label: 'One by one' },
  { id: 'import', label: 'From a spreadsheet' },
  { id: 'like', label: 'Like another point' },
]

/** Measuring points come into the job by hand, out of a spreadsheet, or after one that is there. */
export function AddPanel({ job, way }: { job: Job; way: AddWay }) {
  const open = ways.filter((w) => w.id !== 'like' || job.points.length > 0)
  return (
    <Panel
      key={way}
      title="Add measuring points"
      onClose={closePanel}
      beside={
        <span className="button-row">
          {open.map((w) => (
            <Button key={w.id} aria-pressed={way === w.id} onClick={() => below.set(w.id)}>
              {w.label}
            </Button>
          ))}
        </span>
      }
    >
      {way === 'add' ? <AddPoint job={job} /> : null}
      {way === 'import' ? <SheetImport job={job} onDone={closePanel} /> : null}
      {way === 'like' ? <LikeAnother job={job} onDone={closePanel} /> : null}
    </Panel>
  )
}
