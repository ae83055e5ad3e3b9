import { briefly } from '../../figures/explain.ts'
import { fixedText } from '../../figures/number-text.ts'
import { NotMeasured, Quantity, Shape } from '../../parts/quantity.tsx'
import type { PointView } from '../../state/point-view.ts'
import { certifiedSignalPerLoad } from '../certificate-line.ts'
import { heldExcitation, heldRange } from '../held-line.ts'
import { clippedWords, inputClipped, rangeTooSmall } from '../input-room.ts'
import { signalState } from '../reading-text.ts'
import type { ChainCell } from './chain-cell.ts'

export function showInput(view: PointView): ChainCell {
  const signal = signalState(view)
  const { live, job, point } = view
  const because = live && live.state !== 'fresh' ? live.because : undefined
  if (because?.kind === 'stopped') return { most: 'not asked', detail: 'sending is stopped', tone: 'attention' }
  if (because) {
    const phrase = briefly(because)
    return {
      most: (
        <>
          <Shape kind="square" />
          {phrase}
        </>
      ),
      detail: 'the link, not the sensor',
      tone: 'lost',
      phrase,
    }
  }
  if (!view.indicator) return { most: 'no indicator', detail: 'readings are typed', tone: 'plain' }
  const small = rangeTooSmall(view)
  const look = small ? { tone: 'attention' as const, detail: small.why, phrase: small.said } : {}
  if (!signal)
    return {
      most: live && live.state !== 'never-read' ? <NotMeasured /> : 'not read',
      detail: 'no signal from this indicator',
      tone: 'plain',
      ...look,
    }
  if (signal.origin === 'derived') return { most: <NotMeasured />, detail: 'derived only, from the reading', tone: 'plain', ...look }
  if (inputClipped(view))
    return {
      most: (
        <>
          <Shape kind="square" />
          {clippedWords.said}
        </>
      ),
      detail: clippedWords.why,
      tone: 'lost',
      phrase: `input ${clippedWords.said}`,
    }
  const range = heldRange(view)
  const excitation = heldExcitation(view)
  const perLoad = certifiedSignalPerLoad(point)
  const filled = range ? Math.min(100, Math.max(0, (signal.value / range) * 100)) : undefined
  return {
    most: (
      <>
        {filled === undefined ? null : (
          <span className="signal-bar" aria-hidden="true">
            <span style={{ width: `${filled}%` }} />
          </span>
        )}
        <Quantity value={signal.text} unit={signal.unit} />
      </>
    ),
    detail: [
      excitation === undefined ? null : `${fixedText(signal.value * excitation, 3, job.decimalSign)} mV`,
      perLoad === undefined
        ? null
        : `${fixedText(perLoad * Number(point.scaleInterval) * 1000 * (excitation ?? 1), 2, job.decimalSign)} ${excitation === undefined ? 'µV/V' : 'µV'}/d`,
    ]
      .filter((part) => part !== null)
      .join(' · '),
    tone: 'plain',
    ...look,
  }
}
