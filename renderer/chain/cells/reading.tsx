import { InDoubt } from '../../parts/in-doubt.tsx'
import { Quantity, Shape } from '../../parts/quantity.tsx'
import type { PointView } from '../../state/point-view.ts'
import { readingDoubts } from '../reading-doubts.ts'
import { readingOff } from '../reading-off.ts'
import { readingState } from '../reading-text.ts'
import type { ChainCell } from './chain-cell.ts'

export function showReading(view: PointView): ChainCell {
  const state = readingState(view)
  const doubts = readingDoubts(view)
  const off = readingOff(view)
  const tone = off ? 'attention' : state.tone
  const detail = state.origin === 'not read' ? state.word : `${state.word} · ${state.kind}`
  if (state.reading === null) return { most: '–', detail, tone: state.tone }
  return {
    most: (
      <span className={doubts.length > 0 && state.tone === 'plain' ? 'attention' : undefined}>
        <InDoubt of={doubts} />
        {state.alarm === null ? null : (
          <>
            <Shape kind="square" />
            {state.alarm}{' '}
          </>
        )}
        <span className={state.struck ? 'struck' : undefined}>
          <Quantity value={state.reading} unit={state.unit} />
        </span>
      </span>
    ),
    detail: doubts[0] ? `${state.word} · ${off?.error ?? doubts[0].said}` : detail,
    tone,
    ...(off ? { phrase: off.brief } : tone === 'plain' ? {} : { phrase: state.origin === 'stale' ? `reading ${state.word}` : state.word }),
  }
}
