import type { ReactNode } from 'react'
import { leadsLeave } from '../../app/bridge/point-wiring.ts'
import { settingWords } from '../../app/profile/setting-words.ts'
import { toDecimal } from '../../app/quantity/exact.ts'
import { type DecimalSign, plusMinus } from '../../app/quantity/format.ts'
import { units } from '../../app/quantity/units.ts'
import { alwaysOn } from '../../app/scaling/always-on.ts'
import { unscaledInBrief } from '../../app/scaling/scaling-failure.ts'
import { beyondCapacity } from '../../app/scaling/sensor-load.ts'
import { briefly } from '../figures/explain.ts'
import { clockText, dateText, decimalsOf, fixedText, numberText, signedFixedText } from '../figures/number-text.ts'
import { InDoubt } from '../parts/in-doubt.tsx'
import { NotMeasured, Quantity, Shape } from '../parts/quantity.tsx'
import { type PlaceId, placeIds } from '../places/place-ids.ts'
import { ownDifferences, type PointView } from '../state/point-view.ts'
import { certifiedSignalPerLoad, meanRatedOutput, ownLine } from './certificate-line.ts'
import { heldExcitation, heldRange, heldSlope } from './held-line.ts'
import { implied } from './implied-by-held.ts'
import { clippedWords, inputClipped, rangeTooSmall } from './input-room.ts'
import { intendedScalingDoubt } from './intended-scaling-doubt.ts'
import { isSuperseded, judgeCheck } from './judge-check.ts'
import { overloadNow } from './overload.ts'
import { readingDoubts } from './reading-doubts.ts'
import { readingOff } from './reading-off.ts'
import { readingState, signalState } from './reading-text.ts'
import { scalingDoubt } from './scaling-doubt.ts'
import { movedSinceFound, sinceFoundWords } from './since-found.ts'

/** What a place shows in the table: its one decisive quantity; and, with the point open, one more line. */
export type ChainCell = {
  most: ReactNode
  detail: ReactNode
  tone: 'plain' | 'attention' | 'lost'
  /** A phrase for the list, where somebody has to look: no longer than its one line. */
  phrase?: string
}

export const chainCells: Record<PlaceId, (view: PointView) => ChainCell> = {
  load(view) {
    const { point, job } = view
    const sign = job.decimalSign
    const over = overloadNow(view)
    return {
      most: (
        <>
          Max {numberText(point.maximumLoad, sign)} · d {numberText(point.scaleInterval, sign)} <span className="unit">{point.unit}</span>
        </>
      ),
      detail: over?.said ?? loadDetail(point, sign),
      tone: 'plain',
      ...(over ? { tone: over.tone, phrase: over.said } : {}),
    }
  },

  sensors({ point, job }) {
    const { certificates } = point.sensors
    const [first] = certificates
    const mean = meanRatedOutput(point)
    const line = ownLine(point)
    const beyond = line.ok && first ? beyondCapacity(point, line.value.line) : undefined
    const phrase = line.ok ? beyond && `Max is ${beyond.percent} % of capacity` : unscaledInBrief(line.failure)
    const wrong = phrase === undefined ? {} : { tone: 'attention' as const, phrase }
    if (!first) return { most: 'no certificate', detail: line.ok ? 'scaled otherwise' : 'nothing to scale by', tone: 'plain', ...wrong }
    const decimals = first.ratedOutput ? decimalsOf(first.ratedOutput.value) : 4
    const [count, size] = [certificates.length, first.capacity]
    return {
      most: size ? (
        <>
          {count > 1 ? `${count} × ` : ''}
          {numberText(size.value, job.decimalSign)} <span className="unit">{units[size.unit].symbol}</span>
          {mean === undefined ? '' : ` · ${fixedText(mean, decimals, job.decimalSign)}`}
        </>
      ) : (
        sensorsInWords(count)
      ),
      detail: phrase ?? (count > 1 ? `${count} certificates` : first.number ? `certificate ${first.number}` : 'certificate, no number'),
      tone: 'plain',
      ...wrong,
    }
  },

  wiring({ point, job }) {
    const { wires, cable, senseAt } = point.wiring
    if (!wires) return { most: 'not stated', detail: 'four or six wires', tone: 'plain' }
    const length =
      cable && Number(cable.length.value) !== 0
        ? ` + ${numberText(cable.length.value, job.decimalSign)} ${units[cable.length.unit].symbol}`
        : ''
    const left = leadsLeave(point.wiring, point.sensors.certificates)
    const takes = left.ok && left.value.known === 'computed' ? (1 - left.value.span) * 100 : undefined
    const joined = senseAt ? `sense joined ${senseWords[senseAt]}` : 'sense joined, not stated where'
    return {
      most: `${wires === 6 ? 'six-wire' : 'four-wire'}${length}`,
      detail:
        takes !== undefined && Math.abs(takes) >= 0.0005
          ? `leads take ${fixedText(takes, 3, job.decimalSign)} %`
          : wires === 6
            ? joined
            : takes === undefined
              ? 'cable not stated'
              : 'no loss',
      tone: 'plain',
    }
  },

  input(view) {
    const signal = signalState(view)
    const { live, job, point } = view
    if (live?.state === 'stale' && live.because.kind === 'stopped')
      return { most: 'not asked', detail: 'sending is stopped', tone: 'attention' }
    if (live?.state === 'stale') {
      const phrase = briefly(live.because)
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
  },

  scaling(view) {
    const { point, job, state } = view
    const slope = heldSlope(view)
    if (!view.indicator) return { most: '–', detail: 'no indicator', tone: 'plain' }
    const found = implied(view)
    if (slope === undefined && !found) return { most: state?.held ? 'not computed' : 'not read', detail: modelWords(view), tone: 'plain' }
    const doubt = scalingDoubt(view)
    const intended = intendedScalingDoubt(view)
    if (doubt)
      return {
        most: (
          <>
            implies {doubt.sensitivity} <span className="unit">mV/V</span>
          </>
        ),
        detail: intended ? `${doubt.offPercent} % off · ${intended.said}` : `${doubt.offPercent} % off the certificate`,
        tone: 'attention',
        phrase: `scaling ${doubt.offPercent} % off`,
      }
    const most =
      slope !== undefined ? (
        <>
          {numberText(point.maximumLoad, job.decimalSign)} <span className="unit">{point.unit}</span> ={' '}
          {fixedText(slope * Number(point.maximumLoad), 5, job.decimalSign)}
        </>
      ) : (
        <>
          {fixedText(found?.sensitivity.valueOf() ?? Number.NaN, 4, job.decimalSign)} <span className="unit">mV/V</span>
        </>
      )
    if (intended) return { most: intended.said, detail: <>held: {most}</>, tone: 'attention', phrase: intended.phrase }
    return {
      most,
      detail: found ? `${signedFixedText(found.differencePercent.valueOf(), 2, job.decimalSign)} % off the certificate` : 'as held',
      tone: 'plain',
    }
  },

  settings(view) {
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
  },

  reading(view) {
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
      ...(off
        ? { phrase: off.brief }
        : tone === 'plain'
          ? {}
          : { phrase: state.origin === 'stale' ? `reading ${state.word}` : state.word }),
    }
  },

  check(view) {
    const { lastCheck, runningCheck, point, job } = view
    if (runningCheck) return { most: 'running', detail: `${runningCheck.steps.length} of 3 taken`, tone: 'plain' }
    if (!lastCheck)
      return {
        most: 'not checked',
        detail: point.tolerance
          ? `tolerance ${plusMinus(numberText(point.tolerance.value, job.decimalSign))} ${point.unit}`
          : 'no tolerance set',
        tone: 'plain',
      }
    const detail = `${lastCheck.when.replace('-', ' ')} · ${sameDay(lastCheck.startedAt) ? clockText(new Date(lastCheck.startedAt)).slice(0, 5) : dateText(new Date(lastCheck.startedAt))}`
    if (isSuperseded(view, lastCheck)) return { most: 'superseded', detail, tone: 'plain' }
    const { verdict, worst } = judgeCheck(lastCheck, point)
    const size = worst === undefined ? '' : `, ${signedFixedText(worst.intervals.valueOf(), 1, job.decimalSign)} d`
    if (verdict === 'within') return { most: `within${size}`, detail, tone: 'plain' }
    if (verdict === 'outside')
      return {
        most: (
          <>
            <Shape kind="triangle" />
            outside{size}
          </>
        ),
        detail,
        tone: 'attention',
        phrase: `outside${size}`,
      }
    return { most: `not judged${size}`, detail, tone: 'plain' }
  },
}

const sensorsInWords = (count: number) => (count === 1 ? 'one sensor' : `${count} sensors`)

const senseWords = { indicator: 'at the indicator', 'junction-box': 'in box', sensor: 'at sensor' } as const

/** What always lies on the sensors; for a pressure what it is measured against. */
function loadDetail(point: PointView['point'], sign: DecimalSign): string {
  const always = alwaysOn(point)
  const worth = always.ok ? `${numberText(toDecimal(always.value.load, decimalsOf(point.scaleInterval)), sign)} ${point.unit}` : ''
  if (units[point.unit].dimension === 'pressure') {
    const kind = point.loadPath.pressure ?? 'gauge or absolute not stated'
    return always.ok && always.value.from === 'head' ? `${kind} · head ${worth}` : kind
  }
  if (!always.ok) return 'dead load unclear'
  return always.value.from === 'not-stated' ? 'dead load not stated' : `dead load ${worth}`
}

/** The scaling model of the profile in words of the trade. */
const modelWords = ({ profile }: PointView) => profile?.scaling.model.replaceAll('-', ' ') ?? ''

const sameDay = (instant: string) => new Date(instant).toDateString() === new Date().toDateString()

/** Phrases of all places where somebody has to look: what is lost, then the reading itself, then in the order of the chain. */
export function needsAttention(view: PointView): { phrase: string; tone: 'attention' | 'lost' }[] {
  const found = placeIds.flatMap((place) => {
    const { phrase, tone } = chainCells[place](view)
    return phrase && tone !== 'plain' ? [{ phrase, tone, rank: tone === 'lost' ? 0 : place === 'reading' ? 1 : 2 }] : []
  })
  return found.sort((a, b) => a.rank - b.rank).map(({ phrase, tone }) => ({ phrase, tone }))
}
