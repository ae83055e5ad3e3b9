import { Button, Menu, NativeSelect } from '@mantine/core'
import { type KeyboardEvent, type PointerEvent, type ReactNode, useRef, useState } from 'react'
import { type KeyName, keyName, pressed } from '../../frame/key-table.ts'
import { useDecimalSign } from '../../parts/decimal-sign.ts'
import { saveFile } from '../../parts/save-file.ts'
import { useHost, useTopic } from '../../state/host-context.tsx'
import type { PointView } from '../../state/point-view.ts'
import { clockText, dateText } from '../number-text.ts'
import { chartPicture } from './chart-picture.ts'
import { CursorLines, CursorReadout, cursorLines } from './cursors.tsx'
import { MarkNames } from './mark-names.tsx'
import { addMark, clearMarks, useMarks } from './marks.ts'
import type { Trace } from './trace.ts'
import { commonUnit, quantityLabel, type TrendQuantity, traceOf, trendQuantities } from './traces.ts'
import { TrendChart } from './trend-chart.tsx'
import { trendChoice, trendCursors } from './trend-choice.ts'
import { trendCsv } from './trend-csv.ts'
import type { PlotArea, TrendPlot } from './trend-plot.ts'
import { following, panned, type Span, spans, type TrendView, windowText, within, zoomed } from './trend-view.ts'
import { UnderPointer } from './under-pointer.tsx'

/** More curves than this cannot be told apart. */
const mostTraces = 8

const isTrace = (found: Trace | { why: string }): found is Trace => 'pointId' in found

const middle = ({ from, to }: Span) => (from + to) / 2
const moves = {
  earlier: (shown, known) => panned(shown, -0.2, known),
  later: (shown, known) => panned(shown, 0.2, known),
  zoomIn: (shown, known) => zoomed(shown, 0.5, middle(shown), known),
  zoomOut: (shown, known) => zoomed(shown, 2, middle(shown), known),
} as const satisfies Partial<Record<KeyName, (shown: Span, known: Span) => Span>>
const moveKeys = Object.keys(moves) as (keyof typeof moves)[]

/** One or more points over time, with everything that acts on the chart alone: quantity, scales, time, marks, cursors, saving. */
export function TrendPanel({ views, heading }: { views: readonly PointView[]; heading: ReactNode }) {
  const { store } = useHost()
  const job = useTopic('job')
  const session = useTopic('session')
  const anchor = session ? Date.parse(session.anchor) : Number.NaN
  const plot = useRef<TrendPlot | null>(null)
  const shownViews = views.slice(0, mostTraces)
  const several = shownViews.length > 1
  const kept = several ? trendChoice.several : trendChoice.one
  const chosen = kept.use()
  const [view, setView] = useState<TrendView>(following(chosen.span))
  const [area, setArea] = useState<PlotArea | null>(null)
  const [pointer, setPointer] = useState<number | null>(null)
  const [naming, setNaming] = useState(false)
  const cursors = trendCursors.use()
  const marks = useMarks()
  const sign = useDecimalSign()

  const unit = commonUnit(shownViews)
  const drawable = (q: TrendQuantity) => shownViews.some((v) => isTrace(traceOf(v, q, 0)))
  const quantity = chosen.quantity && drawable(chosen.quantity) ? chosen.quantity : several ? 'percent' : 'reading'
  const found = shownViews.map((v, n) => traceOf(v, quantity, n))
  const traces = found.filter(isTrace)
  const missing = [
    ...found.flatMap((f) => (isTrace(f) ? [] : [f.why])),
    ...views.slice(mostTraces).map((v) => `${v.point.tag} is one too many`),
  ]
  const scales = several && (chosen.own || (quantity === 'reading' && unit === undefined)) ? 'own' : 'shared'
  const label = quantityLabel(quantity, shownViews)
  const leastSpan = Math.max(0, ...traces.map((t) => t.leastSpan ?? 0))

  const hold = (change: (shown: Span, known: Span) => Span) => {
    const known = plot.current?.known()
    if (area && known) setView((now) => ({ ...now, held: change(area, known) }))
  }
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.target !== event.currentTarget) return
    const move = moveKeys.find((name) => pressed(event, name))
    if (pressed(event, 'follow')) setView(following(view.span))
    else if (move) hold(moves[move])
    else return
    event.preventDefault()
  }
  const onPointerMove = (event: PointerEvent<HTMLElement>) => {
    if (event.pointerType !== 'touch') setPointer(event.clientX - event.currentTarget.getBoundingClientRect().left)
  }
  const mark = () => {
    const known = plot.current?.known()
    if (known) addMark({ at: known.to, label: clockText(new Date(anchor + known.to)) })
  }
  const span = area ?? { from: 0, to: 0 }
  const name = `trend-${shownViews.map((v) => v.point.tag).join('-')}`.replace(/[^\w-]+/g, '_').slice(0, 80)
  const saveCsv = () => {
    const text = trendCsv(store, traces, span, marks, { job: job?.name ?? '', simulated: job?.simulated ?? false, anchor })
    saveFile(`${name}.csv`, new Blob([text], { type: 'text/csv' }))
  }
  const savePng = async () => {
    if (!plot.current) return
    const when = [span.from, span.to].map((at) => new Date(anchor + at)).map((at) => `${dateText(at)} ${clockText(at)}`)
    const of = `${shownViews.map((v) => v.point.tag).join(', ')} in ${label}${job?.simulated ? ' · simulated' : ''}`
    const picture = await chartPicture(plot.current.canvas, [
      `${job?.name ?? ''} · ${of}`,
      when.join(' to '),
      ...(cursors ? cursorLines(cursors, traces, store, anchor, sign) : []),
    ])
    if (picture) saveFile(`${name}.png`, picture)
  }

  return (
    <>
      <div className="trend-head">
        {heading}
        <span className="second trend-window">
          in {label}, {area ? (view.held ? 'frozen' : windowText(area.to - area.from, view.span)) : 'no sample yet'}
        </span>
        <span className="spring" />
        <div className="trend-tools">
          <fieldset className="choices" aria-label="Drawn in">
            {trendQuantities
              .filter((q) => several || q !== 'percent')
              .map((q) => (
                <Button
                  key={q}
                  aria-pressed={quantity === q}
                  onClick={() => kept.set((now) => ({ ...now, quantity: q }))}
                  disabled={!drawable(q)}
                >
                  {quantityLabel(q, shownViews)}
                </Button>
              ))}
          </fieldset>
          <NativeSelect
            aria-label="Time shown while following"
            value={String(view.span)}
            data={spans.map((s) => ({ value: String(s), label: s === 60_000 ? '1 min' : s === 3_600_000 ? '1 h' : `${s / 60_000} min` }))}
            onChange={(event) => {
              const chosenSpan = Number(event.currentTarget.value)
              kept.set((now) => ({ ...now, span: chosenSpan }))
              setView(following(chosenSpan))
            }}
          />
          <Button
            aria-pressed={view.held !== null}
            onClick={() => setView((now) => (now.held || !area ? following(now.span) : { ...now, held: { from: area.from, to: area.to } }))}
          >
            {view.held ? 'Follow' : 'Freeze'}
          </Button>
          <Button onClick={mark} title="Puts a dotted line at this moment into the chart">
            Mark
          </Button>
          <Menu position="bottom-end">
            <Menu.Target>
              <Button>More…</Button>
            </Menu.Target>
            <Menu.Dropdown>
              <Menu.Item
                onClick={() =>
                  trendCursors.set(
                    cursors || !area ? null : { a: area.from + (area.to - area.from) / 3, b: area.from + ((area.to - area.from) * 2) / 3 },
                  )
                }
              >
                {cursors ? 'Take the cursors away' : 'Two cursors with difference'}
              </Menu.Item>
              {several ? (
                <Menu.Item onClick={() => kept.set((now) => ({ ...now, own: !now.own }))}>
                  {scales === 'own' ? 'One scale for all' : 'Each curve on its own scale'}
                </Menu.Item>
              ) : null}
              {marks.length > 0 ? (
                <Menu.Item onClick={() => setNaming(true)}>{marks.length === 1 ? 'Name the mark' : 'Name or remove marks'}</Menu.Item>
              ) : null}
              {marks.length > 0 ? (
                <Menu.Item onClick={clearMarks}>Take {marks.length === 1 ? 'the mark' : `${marks.length} marks`} away</Menu.Item>
              ) : null}
              <Menu.Divider />
              <Menu.Item onClick={saveCsv}>Save samples shown as CSV</Menu.Item>
              <Menu.Item onClick={() => void savePng()}>Save picture as PNG</Menu.Item>
              <Menu.Divider />
              <Menu.Label>Drag moves, {keyName('Ctrl')} and wheel zooms; keys ← → + − and 0 to follow</Menu.Label>
            </Menu.Dropdown>
          </Menu>
        </div>
      </div>
      {missing.length > 0 ? <p className="second small">Not drawn: {missing.join('; ')}.</p> : null}
      {naming && marks.length > 0 ? <MarkNames marks={marks} anchor={anchor} onDone={() => setNaming(false)} /> : null}
      {cursors ? <CursorReadout cursors={cursors} traces={traces} store={store} anchor={anchor} /> : null}
      <div
        className="trend-frame"
        role="application"
        aria-label="Chart, moved by arrow keys, zoomed by plus and minus"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the chart is moved and zoomed by keys
        tabIndex={0}
        data-own-keys
        onKeyDown={onKeyDown}
        onPointerMove={onPointerMove}
        onPointerLeave={() => setPointer(null)}
      >
        <TrendChart
          traces={traces}
          unit={quantity === 'percent' ? '%' : scales === 'own' ? '' : label}
          view={view}
          leastSpan={leastSpan}
          marks={marks}
          scales={scales}
          label={`${label} of ${shownViews.map((v) => v.point.tag).join(', ')} over time`}
          plot={plot}
          onArea={setArea}
          onHold={(by) => {
            const known = plot.current?.known()
            setView((now) => ({ ...now, held: known ? within(by, known) : by }))
          }}
        >
          {cursors && area ? <CursorLines cursors={cursors} area={area} anchor={anchor} onMove={trendCursors.set} /> : null}
          {pointer !== null && area ? <UnderPointer x={pointer} area={area} traces={traces} store={store} anchor={anchor} /> : null}
        </TrendChart>
      </div>
    </>
  )
}
