import papa from 'papaparse'
import type { Store } from '../../state/store.ts'
import type { Mark, Trace } from './trace.ts'
import type { Span } from './trend-view.ts'

export type TrendHeading = { job: string; simulated: boolean /** UTC instant of monotonic zero, milliseconds. */; anchor: number }

/**
 * Every sample that the trend shows, none thinned away: a row for each time at which any point has a value. A mark stands in a
 * column of its own, at the first sample after it.
 * Decimal points and UTC whatever the job's decimal sign, as in all files.
 */
export function trendCsv(store: Store, traces: readonly Trace[], span: Span, marks: readonly Mark[], heading: TrendHeading): string {
  const rows = new Map<number, string[]>()
  for (const [column, trace] of traces.entries()) {
    for (const { at, value } of store.ring(trace.pointId).between(span.from, span.to, trace.quantity)) {
      for (let i = 0; i < at.length; i += 1) {
        const [time = Number.NaN, held = Number.NaN] = [at[i], value[i]]
        const row = rows.get(time) ?? traces.map(() => '')
        row[column] = Number.isNaN(held) ? '' : shortText(held * (trace.factor ?? 1))
        rows.set(time, row)
      }
    }
  }
  const times = [...rows.keys()].sort((a, b) => a - b)
  const marked = Map.groupBy(
    marks.filter(({ at }) => at >= span.from && at <= span.to),
    ({ at }) => times.find((time) => time >= at) ?? times.at(-1),
  )
  const markCell = (text: string) => (marked.size > 0 ? [text] : [])
  const lines = [
    ['trend of live samples', '1'],
    ['job', heading.job],
    ['indicators', heading.simulated ? 'simulated' : 'real'],
    ['from (UTC)', new Date(heading.anchor + span.from).toISOString()],
    ['to (UTC)', new Date(heading.anchor + span.to).toISOString()],
    [
      'time (UTC)',
      'seconds',
      ...traces.map((t) => `${t.label} ${t.quantity === 'signal' ? 'signal ' : ''}(${t.unit ?? ''})`),
      ...markCell('mark'),
    ],
    ...times.map((time) => [
      new Date(heading.anchor + time).toISOString(),
      ((time - (times[0] ?? 0)) / 1000).toFixed(3),
      ...(rows.get(time) ?? []),
      ...markCell((marked.get(time) ?? []).map((m) => m.label).join('; ')),
    ]),
  ]
  return `${papa.unparse(lines, { newline: '\r\n', escapeFormulae: formula })}\r\n`
}

/** What a spreadsheet would take for a formula; a negative number is none. */
const formula = /^[=+@\t\r]|^-(?![\d.])/

/** Without the digits that only binary arithmetic has put there. */
const shortText = (value: number) => String(Number(value.toPrecision(10)))
