import { Button, Menu, NativeSelect } from '@mantine/core'
import { type KeyboardEvent, type ReactNode, useRef, useState } from 'react'
import { type KeyName, keyName, pressed } from '../../frame/key-table.ts'
import { saveFile } from '../../parts/save-file.ts'
import { useHost, useTopic } from '../../state/host-context.tsx'
import type { PointView } from '../../state/point-view.ts'
import { clockText } from '../number-text.ts'
import { chartPicture } from './chart-picture.ts'
import { CursorLines, CursorReadout, type Cursors } from './cursors.tsx'
import { addMark, clearMarks, useMarks } from './marks.ts'
import type { Trace } from './trace.ts'
import { commonUnit, quantityLabel, type TrendQuantity, traceOf, trendQuantities } from './traces.ts'
import { TrendChart } from './trend-chart.tsx'
import { trendCsv } from './trend-csv.ts'
import type { PlotArea, TrendPlot } from './trend-plot.ts'
import { following, panned, type Span, spans, type TrendView, windowText, within, zoomed } from './trend-view.ts'

const tenMinutes = 600_000
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
export function TrendPanel({
  views,
  heading,
  quantity: first,
}: {
  views: readonly PointView[]
  heading: ReactNode
  quantity?: TrendQuantity
}) {
  const { store } = useHost()
  const job = useTopic('job')
  const session = useTopic('session')
  const anchor = session ? Date.parse(session.anchor) : Number.NaN
  const plot = useRef<TrendPlot | null>(null)
  const [chosen, setChosen] = useState<TrendQuantity | undefined>(first)
  const [ownScales, setOwnScales] = useState(false)
  const [view, setView] = useState<TrendView>(following(tenMinutes))
  const [area, setArea] = useState<PlotArea | null>(null)
  const [cursors, setCursors] = useState<Cursors | null>(null)
  const marks = useMarks()

  const shownViews = views.slice(0, mostTraces)
  const several = shownViews.length > 1
  const unit = commonUnit(shownViews)
  const quantity = chosen ?? (several ? 'percent' : 'reading')
  const found = shownViews.map((v, n) => traceOf(v, quantity, n))
  const traces = found.filter(isTrace)
  const missing = [
    ...found.flatMap((f) => (isTrace(f) ? [] : [f.why])),
    ...views.slice(mostTraces).map((v) => `${v.point.tag} is one too many`),
  ]
  const scales = several && (ownScales || (quantity === 'reading' && unit === undefined)) ? 'own' : 'shared'
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
  const mark = () => {
    const known = plot.current?.known()
    if (known) addMark({ at: known.to, label: clockText(new Date(anchor + known.to)) })
  }
  const span = area ?? { from: 0, to: 0 }
  const name = `trend-${shownViews.map((v) => v.point.tag).join('-')}`.replace(/[^\w-]+/g, '_').slice(0, 80)
  const saveCsv = () => {
    const text = trendCsv(store, traces, span, { job: job?.name ?? '', simulated: job?.simulated ?? false, anchor })
    saveFile(`${name}.csv`, new Blob([text], { type: 'text/csv' }))
  }
  const savePng = async () => {
    if (!plot.current) return
    const when = [span.from, span.to].map((at) => new Date(anchor + at).toISOString().slice(0, 19).replace('T', ' ')).join(' to ')
    const of = `${shownViews.map((v) => v.point.tag).join(', ')} in ${label}${job?.simulated ? ' · simulated' : ''}`
    const picture = await chartPicture(plot.current.canvas, [`${job?.name ?? ''} · ${of}`, `${when} UTC`])
    if (picture) saveFile(`${name}.png`, picture)
  }

  return (
    <>
      <div className="trend-head">
        {heading}
        <span className="second">
          in {label}, {area ? (view.held ? 'chart held' : windowText(area.to - area.from, view.span)) : 'no sample yet'}
        </span>
        <span className="spring" />
        <fieldset className="choices" aria-label="Drawn in">
          {trendQuantities
            .filter((q) => several || q !== 'percent')
            .map((q) => (
              <Button
                key={q}
                aria-pressed={quantity === q}
                onClick={() => setChosen(q)}
                disabled={!shownViews.some((v) => isTrace(traceOf(v, q, 0)))}
              >
                {quantityLabel(q, shownViews)}
              </Button>
            ))}
        </fieldset>
        <NativeSelect
          aria-label="Time shown while following"
          value={String(view.span)}
          data={spans.map((s) => ({ value: String(s), label: s === 60_000 ? '1 min' : s === 3_600_000 ? '1 h' : `${s / 60_000} min` }))}
          onChange={(event) => setView(following(Number(event.currentTarget.value)))}
        />
        <Button
          aria-pressed={view.held !== null}
          onClick={() => setView((now) => (now.held || !area ? following(now.span) : { ...now, held: { from: area.from, to: area.to } }))}
        >
          {view.held ? 'Follow again' : 'Freeze chart'}
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
                setCursors(
                  cursors || !area ? null : { a: area.from + (area.to - area.from) / 3, b: area.from + ((area.to - area.from) * 2) / 3 },
                )
              }
            >
              {cursors ? 'Take the cursors away' : 'Two cursors with difference'}
            </Menu.Item>
            {several ? (
              <Menu.Item onClick={() => setOwnScales((now) => !now)}>
                {scales === 'own' ? 'One scale for all' : 'Each curve on its own scale'}
              </Menu.Item>
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
      {missing.length > 0 ? <p className="second small">Not drawn: {missing.join('; ')}.</p> : null}
      {cursors ? <CursorReadout cursors={cursors} traces={traces} store={store} anchor={anchor} /> : null}
      <div
        className="trend-frame"
        role="application"
        aria-label="Chart, moved by arrow keys, zoomed by plus and minus"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the chart is moved and zoomed by keys
        tabIndex={0}
        data-own-keys
        onKeyDown={onKeyDown}
      >
        <TrendChart
          traces={traces}
          unit={scales === 'own' ? '' : label}
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
          {cursors && area ? <CursorLines cursors={cursors} area={area} anchor={anchor} onMove={setCursors} /> : null}
        </TrendChart>
      </div>
    </>
  )
}
