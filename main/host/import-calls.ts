import type { Handlers } from '../../app/contract/contract.ts'
import { type ImportContext, type Imported, importPoints } from '../../app/job/import-points.ts'
import { pointsFromTemplate } from '../../app/job/points-from-template.ts'
import { ok } from '../../app/result.ts'
import { readCsv } from '../files/csv.ts'
import type { LiveLoop } from './live-loop.ts'
import { refuse } from './refusals.ts'
import { staleEdit } from './stale-edit.ts'
import { editJob, type World } from './world.ts'

export function importCalls(w: World, live: LiveLoop): Pick<Handlers, 'points.import'> {
  return {
    async 'points.import'({ revision, from, dryRun, partly }) {
      const { job } = w.store
      const old = staleEdit(w, revision, job.points)
      if (old) return old
      const context: ImportContext = { ...job, profiles: w.profiles, newId: () => w.newId('point') }
      const imported = 'sheet' in from ? fromSheet(from.sheet, context, from.columns) : pointsFromTemplate(from.template, context)
      const wanted = imported.points.length > 0 && (imported.errors.length === 0 || partly)
      if (dryRun || !wanted) return ok({ revision, added: false, ...imported })
      const saved = editJob(w, (held) => ({ ...held, points: [...held.points, ...imported.points] }))
      if (!saved.ok) return refuse(saved.failure.why, saved.failure.where)
      for (const point of imported.points) w.topics.set('live', point.id, { state: 'never-read' })
      live.want([...live.wanted(), ...imported.points.map((p) => p.id)])
      return ok({ revision: saved.value.revision, added: true, ...imported })
    },
  }
}

function fromSheet(text: string, context: ImportContext, columns: Parameters<typeof importPoints>[2]): Imported {
  const rows = readCsv(text)
  return rows.ok
    ? importPoints(rows.value, context, columns)
    : { points: [], errors: [{ row: rows.failure.row ?? 1, column: '', why: rows.failure.why }], columns: [] }
}
