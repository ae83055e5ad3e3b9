import type { Handlers } from '../../app/contract/contract.ts'
import type { EntrySheetView } from '../../app/contract/entry-sheet-calls.ts'
import { ok } from '../../app/result.ts'
import { entrySheet } from '../../app/scaling/entry-sheet.ts'
import { entrySheetsHtml } from '../report/entry-sheet.ts'
import { refuse } from './refusals.ts'
import { indicatorOf, pointOf, type World } from './world.ts'

export function entrySheetCalls(w: World): Pick<Handlers, 'entry-sheet.read'> {
  return {
    async 'entry-sheet.read'({ pointIds }) {
      const sheets: EntrySheetView[] = []
      for (const pointId of pointIds) {
        const point = pointOf(w, pointId)
        if (!point) return refuse(`There is no measuring point ${pointId} in this job.`, 'pointIds')
        const indicator = point.indicatorId === undefined ? undefined : indicatorOf(w, point.indicatorId)
        const profile = indicator && w.profiles.get(indicator.profileId)
        if (!indicator || !profile) return refuse(`${point.tag} has no indicator with a known profile: give it one first.`, point.tag)
        const sheet = entrySheet(point, indicator, profile)
        if (!sheet.ok) return refuse(`${point.tag}: ${sheet.failure}`, point.tag)
        sheets.push(sheet.value)
      }
      return ok({ sheets, html: entrySheetsHtml(w.store.job, sheets, { at: w.clock.stamp(), zone: w.clock.zone() }) })
    },
  }
}
