import { useCallback, useRef, useState } from 'react'
import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { WriteFailure, WritePreview, WriteReceipt } from '../../app/contract/views.ts'
import type { Job } from '../../app/job/schema.ts'
import { type NotReached, useAsking, useHost } from '../state/host-context.tsx'
import { gather } from '../state/point-view.ts'
import { type ReadingBefore, readAnewAfter, readingsNow } from './readings-across.ts'
import { begunHere, noteBegun, type Purpose } from './review-request.ts'

type Refused = BusFailure | { kind: 'refused-request'; why: string; where?: string | undefined } | NotReached
export type WriteResult =
  | { ok: true; receipt: WriteReceipt /** Readings before it, where they were known. */; before?: readonly ReadingBefore[] }
  | { ok: false; failure: WriteFailure }
  | { unreached: string }

export type ReviewState =
  | { at: 'reading' }
  | { at: 'refused'; failure: Refused }
  | { at: 'shown'; preview: WritePreview }
  | { at: 'queued'; preview: WritePreview }
  | { at: 'writing'; preview: WritePreview }
  /** A write that was begun before this review was opened: before the page was loaded again, or elsewhere. */
  | { at: 'followed' }
  | { at: 'ended'; result: WriteResult }

/** The way of one or more indicators through a review: read again, show, write, say how it ended. Each goes by itself. */
export function useReviews(job: Job, indicatorIds: readonly string[]) {
  const ask = useAsking()
  const [states, setStates] = useState<ReadonlyMap<string, ReviewState>>(
    () => new Map(indicatorIds.map((id) => [id, { at: begunHere(id) ? 'followed' : 'reading' }])),
  )
  const now = useRef(states)
  const leaveOut = useRef(false)
  const { indicators } = job
  const { store } = useHost()
  const viewsOn = useCallback(
    (indicatorId: string) => {
      const known = store.topic('job')
      const on = known?.points.filter((p) => p.indicatorId === indicatorId) ?? []
      return on.flatMap((p) => (known && gather(store, known, null, p.id)) ?? [])
    },
    [store],
  )

  const set = useCallback((id: string, state: ReviewState) => {
    now.current = new Map(now.current).set(id, state)
    setStates(now.current)
  }, [])

  const prepare = useCallback(
    async (ids: readonly string[], purpose: Purpose) => {
      await Promise.all(
        ids.map(async (indicatorId) => {
          noteBegun(indicatorId, false)
          set(indicatorId, { at: 'reading' })
          const answer =
            purpose === 'intended'
              ? await ask('settings.preview', { indicatorId })
              : await ask('settings.preview-restore', { indicatorId, to: purpose })
          if (now.current.get(indicatorId)?.at !== 'reading') return
          set(indicatorId, answer.ok ? { at: 'shown', preview: answer.value } : { at: 'refused', failure: answer.failure })
        }),
      )
    },
    [ask, set],
  )

  const write = useCallback(
    async (id: string, preview: WritePreview) => {
      noteBegun(id, true)
      set(id, { at: 'writing', preview })
      const before = readingsNow(viewsOn(id))
      const answer = await ask('settings.write', { previewId: preview.previewId })
      if (answer.ok)
        return set(id, { at: 'ended', result: { ok: true, receipt: answer.value, before: readAnewAfter(before, viewsOn(id)) } })
      const { failure } = answer
      set(id, { at: 'ended', result: failure.kind === 'not-reached' ? { unreached: failure.why } : { ok: false, failure } })
    },
    [ask, set, viewsOn],
  )

  /** Buses side by side, indicators of one bus one after another. */
  const commit = useCallback(
    async (ids: readonly string[]) => {
      leaveOut.current = false
      const shown = ids.flatMap((id) => {
        const state = now.current.get(id)
        return state?.at === 'shown' ? [{ id, preview: state.preview }] : []
      })
      for (const { id, preview } of shown) set(id, { at: 'queued', preview })
      const lanes = Map.groupBy(shown, ({ id }) => indicators.find((i) => i.id === id)?.busId)
      await Promise.all(
        [...lanes.values()].map(async (lane) => {
          for (const { id, preview } of lane) {
            if (leaveOut.current) set(id, { at: 'shown', preview })
            else await write(id, preview)
          }
        }),
      )
    },
    [indicators, set, write],
  )
  const endAfterThese = useCallback(() => {
    leaveOut.current = true
  }, [])
  return { states, set, prepare, commit, endAfterThese }
}
