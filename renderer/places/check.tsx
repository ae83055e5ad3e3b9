import { Button, Modal, TextInput } from '@mantine/core'
import { useRef, useState } from 'react'
import { evaluateQuickCheck } from '../../app/evaluation/quick-check.ts'
import type { QuickCheck } from '../../app/job/schema.ts'
import { toDecimal } from '../../app/quantity/exact.ts'
import { isSuperseded } from '../chain/judge-check.ts'
import { CheckErrors } from '../figures/check-errors.tsx'
import { explain } from '../figures/explain.ts'
import { decimalsOf, numberText, signedText } from '../figures/number-text.ts'
import { TrendChart } from '../figures/trend-chart.tsx'
import { WeightStack } from '../figures/weight-stack.tsx'
import { Shape } from '../parts/quantity.tsx'
import { useRequest } from '../state/host-context.tsx'
import type { PointView } from '../state/point-view.ts'
import { BigReading } from './reading.tsx'

/** The quick check, guided: zero, a known load, zero; captured when steady; error and verdict; the handover sheet. */
export function CheckPlace({ view }: { view: PointView }) {
  const check = view.runningCheck ?? view.lastCheck
  return (
    <div className="columns">
      <section className="narrow">{view.runningCheck ? <Running view={view} check={view.runningCheck} /> : <Start view={view} />}</section>
      <section>
        <BigReading view={view} />
        <p className="second small">Captured once the last 2 s stay inside one scale interval.</p>
        <TrendChart
          traces={[{ pointId: view.point.id, label: view.point.tag, colour: 1, quantity: 'reading' }]}
          unit={view.point.unit}
          windowMs={20_000}
          leastSpan={5 * Number(view.point.scaleInterval)}
          time="relative"
          label="Reading over the last 20 seconds"
        />
      </section>
      <section>
        {check && check.steps.length > 0 ? (
          <Result view={view} check={check} />
        ) : (
          <p className="second">Errors appear here as loads are captured.</p>
        )}
      </section>
    </div>
  )
}

function Start({ view }: { view: PointView }) {
  const start = useRequest('check.start')
  const begin = (when: 'as-found' | 'as-left') => void start.ask({ pointId: view.point.id, when })
  const written = view.visit?.found[view.point.indicatorId ?? ''] !== view.visit?.left[view.point.indicatorId ?? '']
  return (
    <>
      <h2>Quick check</h2>
      <p>Nothing on, a known load, nothing on again. Half of maximum load or more says most.</p>
      <p className="caution">Nobody under the load. Rated gear, and your site's rules. Loop in manual, outputs isolated.</p>
      <div className="button-row">
        <Button variant={written ? 'default' : 'filled'} onClick={() => begin('as-found')}>
          Start as found
        </Button>
        <Button variant={written ? 'filled' : 'default'} onClick={() => begin('as-left')}>
          Start as left
        </Button>
      </div>
      {start.failure ? <p className="lost small">{explain(start.failure)}</p> : null}
      <Sheet view={view} />
    </>
  )
}

function Running({ view, check }: { view: PointView; check: QuickCheck }) {
  const { point } = view
  const capture = useRequest('check.capture')
  const finish = useRequest('check.finish')
  const bench = useRequest('practice.load')
  const last = check.steps.at(-1)
  const loaded = check.steps.some((s) => Number(s.load) !== 0)
  const wantsZero = check.steps.length === 0 || (last !== undefined && Number(last.load) !== 0)
  const complete = loaded && last !== undefined && Number(last.load) === 0
  const [typedLoad, setTypedLoad] = useState('')
  const [typedReading, setTypedReading] = useState('')
  const load = wantsZero ? '0' : typedLoad.trim().replace(',', '.')
  const take = (typed?: string) =>
    void capture.ask({ checkId: check.id, load, ...(typed ? { typed: typed.trim().replace(',', '.') } : {}) })
  return (
    <>
      <h2>
        {check.when === 'as-found' ? 'As found' : 'As left'}, step {check.steps.length + 1}
      </h2>
      {wantsZero ? (
        <p className="put-on">Nothing on</p>
      ) : (
        <TextInput
          label={`Known load on the point, ${point.unit}`}
          value={typedLoad}
          onChange={(e) => setTypedLoad(e.currentTarget.value)}
        />
      )}
      <WeightStack load={wantsZero ? 0 : Number(load) || 0} maximum={Number(point.maximumLoad)} unit={point.unit} />
      {view.job.simulated ? (
        <div className="button-row">
          <Button disabled={load === ''} onClick={() => void bench.ask({ pointId: point.id, load })}>
            {wantsZero ? 'Clear the practice bench' : 'Put it on the practice bench'}
          </Button>
        </div>
      ) : null}
      <div className="button-row">
        <Button variant={complete ? 'default' : 'filled'} disabled={load === ''} loading={capture.running} onClick={() => take()}>
          Capture {load === '' ? '' : `${numberText(load)} ${point.unit}`}
        </Button>
        {complete ? (
          <Button variant="filled" loading={finish.running} onClick={() => void finish.ask({ checkId: check.id })}>
            Finish the check
          </Button>
        ) : null}
      </div>
      {capture.failure ? <p className="attention small">{explain(capture.failure)}</p> : null}
      <details>
        <summary className="second">Type the reading instead</summary>
        <div className="button-row">
          <TextInput
            aria-label={`Reading, ${point.unit}`}
            value={typedReading}
            onChange={(e) => setTypedReading(e.currentTarget.value)}
            w={110}
          />
          <Button disabled={load === '' || typedReading.trim() === ''} onClick={() => take(typedReading)}>
            Take the typed reading
          </Button>
        </div>
      </details>
    </>
  )
}

const verdictWords = { within: 'within tolerance', outside: 'outside tolerance', 'cannot-be-judged': 'cannot be judged' } as const

function Result({ view, check }: { view: PointView; check: QuickCheck }) {
  const { point } = view
  const result = evaluateQuickCheck(check, point)
  const decimals = decimalsOf(point.scaleInterval)
  const superseded = isSuperseded(view, check)
  const verdict = check.finishedAt ? result.verdict : null
  return (
    <>
      <h2>
        {check.when === 'as-found' ? 'As found' : 'As left'}
        {verdict ? ': ' : ''}
        {verdict === 'outside' ? (
          <span className="lost">
            <Shape kind="square" />
            {verdictWords.outside}
          </span>
        ) : verdict === 'cannot-be-judged' ? (
          <span className="attention">
            <Shape kind="triangle" />
            {verdictWords[verdict]}
          </span>
        ) : verdict ? (
          verdictWords[verdict]
        ) : null}
        {superseded ? <span className="attention"> superseded: the scaling changed since</span> : null}
      </h2>
      <CheckErrors
        steps={result.steps.map((s) => ({ load: s.load.valueOf(), error: s.error.valueOf() }))}
        maximum={Number(point.maximumLoad)}
        tolerance={point.tolerance ? Number(point.tolerance.value) : undefined}
        unit={point.unit}
      />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col" className="is-right">
              load
            </th>
            <th scope="col" className="is-right">
              reading
            </th>
            <th scope="col" className="is-right">
              error {point.unit}
            </th>
            <th scope="col" className="is-right">
              d
            </th>
            <th scope="col" className="is-right">
              % of load
            </th>
          </tr>
        </thead>
        <tbody>
          {result.steps.map((s, i) => (
            <tr key={check.steps[i]?.at}>
              <td className="is-right">{numberText(toDecimal(s.load, decimals))}</td>
              <td className="is-right">
                {numberText(toDecimal(s.reading, decimals))}
                {check.steps[i]?.origin === 'typed' ? ' typed' : ''}
              </td>
              <td className="is-right">{signedText(toDecimal(s.error, decimals))}</td>
              <td className="is-right">{signedText(toDecimal(s.intervals, 1))}</td>
              <td className="is-right">{s.percentOfLoad ? signedText(toDecimal(s.percentOfLoad, 3)) : ''}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {check.finishedAt
        ? [...result.reasons, ...result.remarks].map((r) => (
            <p className="second small" key={r}>
              {r}
            </p>
          ))
        : null}
    </>
  )
}

/** The sheet is shown as it prints, in a frame that runs no scripts. */
function Sheet({ view }: { view: PointView }) {
  const sheet = useRequest('sheet.read')
  const [html, setHtml] = useState<string | null>(null)
  const frame = useRef<HTMLIFrameElement>(null)
  const open = async () => {
    const answer = await sheet.ask({ pointId: view.point.id })
    if (answer.ok) setHtml(answer.value.html)
  }
  return (
    <>
      <div className="button-row">
        <Button loading={sheet.running} onClick={() => void open()}>
          Handover sheet
        </Button>
      </div>
      {sheet.failure ? <p className="lost small">{explain(sheet.failure)}</p> : null}
      <Modal
        opened={html !== null}
        onClose={() => setHtml(null)}
        title="Handover sheet"
        size={900}
        transitionProps={{ duration: 0 }}
        closeButtonProps={{ 'aria-label': 'Close' }}
      >
        <iframe ref={frame} className="sheet" title="Handover sheet" sandbox="allow-same-origin allow-modals" srcDoc={html ?? ''} />
        <div className="button-row">
          <Button variant="filled" onClick={() => frame.current?.contentWindow?.print()}>
            Print
          </Button>
        </div>
      </Modal>
    </>
  )
}
