import { settingWords } from '../../../app/profile/setting-words.ts'
import { ownDifferences, type PointView } from '../../state/point-view.ts'
import { movedSinceFound, sinceFoundWords } from '../since-found.ts'
import type { ChainCell } from './chain-cell.ts'

/** Held and intended, and whether a seal stands before a write. */
export function showSettings(view: PointView): ChainCell {
  const sealed = view.indicator?.sealed
  return { ...heldAgainstIntended(view), also: sealed && (sealed.broken ? 'seal broken' : 'sealed') }
}

function heldAgainstIntended(view: PointView): ChainCell {
  const { state } = view
  if (!view.indicator) return { most: '–', detail: 'nothing to write to', tone: 'plain' }
  if (!state?.held) return { most: 'not read', detail: 'nothing known of what is held', tone: 'plain' }
  if (state.writing)
    return { most: 'being written', detail: `${state.writing.done} of ${state.writing.of}`, tone: 'attention', phrase: 'being written' }
  const differs = ownDifferences(view)
  if (Object.keys(view.point.intended).length === 0)
    return { most: sinceFoundWords(movedSinceFound(view)), detail: 'nothing intended yet', tone: 'plain' }
  if (differs.length === 0) return { most: 'as intended', detail: 'read back equal', tone: 'plain' }
  const most = `${differs.length} ${differs.length === 1 ? 'differs' : 'differ'}`
  const names = differs.map((d) => settingWords(d.key).toLowerCase())
  return {
    most,
    detail: names.length > 1 ? `${names[0]}, …` : names[0],
    tone: 'attention',
    phrase: `${differs.length} ${differs.length === 1 ? 'setting differs' : 'settings differ'}`,
  }
}
