import { useCallback, useState } from 'react'
import type { BusFailure } from '../../app/contract/bus-failure.ts'
import type { WriteFailure, WritePreview, WriteReceipt } from '../../app/contract/views.ts'
import { type NotReached, useRequest } from '../state/host-context.tsx'

export type Purpose = 'intended' | 'before-last-write' | 'as-found'

type Refused = BusFailure | { kind: 'refused-request'; why: string; where?: string | undefined } | NotReached
export type WriteResult = { ok: true; receipt: WriteReceipt } | { ok: false; failure: WriteFailure } | { unreached: string }

export type ReviewState =
  | { at: 'reading' }
  | { at: 'refused'; failure: Refused }
  | { at: 'shown'; preview: WritePreview }
  | { at: 'writing'; preview: WritePreview }
  | { at: 'ended'; result: WriteResult }

/** One indicator's way through a review: read again, show, write, say how it ended. */
export function useReview(indicatorId: string) {
  const intended = useRequest('settings.preview')
  const earlier = useRequest('settings.preview-restore')
  const write = useRequest('settings.write')
  const [state, setState] = useState<ReviewState>({ at: 'reading' })
  const { ask: askIntended } = intended
  const { ask: askEarlier } = earlier
  const { ask: askWrite } = write

  const prepare = useCallback(
    async (purpose: Purpose) => {
      setState({ at: 'reading' })
      const answer = purpose === 'intended' ? await askIntended({ indicatorId }) : await askEarlier({ indicatorId, to: purpose })
      setState(answer.ok ? { at: 'shown', preview: answer.value } : { at: 'refused', failure: answer.failure })
    },
    [askIntended, askEarlier, indicatorId],
  )

  const commit = useCallback(
    async (preview: WritePreview) => {
      setState({ at: 'writing', preview })
      const answer = await askWrite({ previewId: preview.previewId })
      if (answer.ok) return setState({ at: 'ended', result: { ok: true, receipt: answer.value } })
      const { failure } = answer
      setState({ at: 'ended', result: failure.kind === 'not-reached' ? { unreached: failure.why } : { ok: false, failure } })
    },
    [askWrite],
  )
  return { state, prepare, commit }
}
