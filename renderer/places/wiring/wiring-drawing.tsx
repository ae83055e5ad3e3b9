import { hasJunctionBox, runOhms } from '../../../app/bridge/point-wiring.ts'
import type { CableRun, LeadRole, Wired } from '../../../app/job/wiring.ts'
import { units } from '../../../app/quantity/units.ts'
import { fixedText, numberText } from '../../figures/number-text.ts'
import { useDecimalSign } from '../../parts/decimal-sign.ts'
import type { PointView } from '../../state/point-view.ts'
import { conductorText } from './conductor-choice.tsx'
import { rolesOf, roleWords, terminalOf } from './lead-roles.ts'

const width = 560
const top = 44
const row = 26
/** Columns of the drawing: bridge, junction box, end of the cable, terminals. */
const x = { bridge: 62, box: 176, boxWidth: 46, strip: 470, stripWidth: 36 }

/** The bridge, what lies between, and the terminals of the indicator: generic, ink on paper, fit to be printed. */
export function WiringDrawing({ view }: { view: PointView }) {
  const { point } = view
  const { wiring, sensors } = point
  const sign = useDecimalSign()
  const count = sensors.certificates.length
  const box = hasJunctionBox(wiring, count)
  const roles = rolesOf(wiring).map(({ role }) => role)
  const y = (role: LeadRole) => top + roles.indexOf(role) * row
  const height = top + roles.length * row + 30
  const bottom = y('shield')
  const middle = (y('excitation+') + y('excitation-')) / 2
  const start = box ? x.box + x.boxWidth : x.bridge + 44
  const between = (start + x.strip) / 2
  const cable = wiring.cable
  const near = (wiring.series ?? []).filter((p) => !box || p.between === 'indicator-and-box')
  return (
    <svg className="drawing" viewBox={`0 0 ${width} ${height}`} role="img" aria-label={`Wiring of ${point.tag}`}>
      <Bridge x={x.bridge} y={middle} />
      <text className="drawing-text" x={x.bridge} y={height - 8} textAnchor="middle">
        {count > 1 ? `${count} sensors in parallel` : count === 1 ? 'sensor' : 'no sensor entered'}
      </text>
      {box ? (
        <SensorLeads from={x.bridge} to={x.box} middle={middle} y={y} bottom={bottom} />
      ) : (
        <OwnLeads x={x.bridge} start={start} middle={middle} y={y} />
      )}
      {box ? (
        <>
          <rect className="drawing-box" x={x.box} y={top - 16} width={x.boxWidth} height={bottom - top + 32} rx="3" />
          <text className="drawing-text" x={x.box + x.boxWidth / 2} y={height - 8} textAnchor="middle">
            junction box
          </text>
        </>
      ) : null}
      <rect className="drawing-box" x={x.strip} y={top - 16} width={x.stripWidth} height={bottom - top + 32} rx="3" />
      {roles.map((role) => (
        <g key={role}>
          <line className={role === 'shield' ? 'drawing-shield' : 'drawing-line'} x1={start} x2={x.strip} y1={y(role)} y2={y(role)} />
          <text className="drawing-text" x={x.strip - 8} y={y(role) - 5} textAnchor="end">
            {wiring.leads?.colours[role] ?? ''}
          </text>
          <text className="drawing-terminal" x={x.strip + x.stripWidth / 2} y={y(role) + 5} textAnchor="middle">
            {terminalOf(view, role) ?? '–'}
          </text>
          <text className="drawing-role" x={start + 8} y={y(role) - 5}>
            {roleWords(role)}
          </text>
        </g>
      ))}
      <text className="drawing-text" x={x.strip + x.stripWidth / 2} y={height - 8} textAnchor="middle">
        indicator
      </text>
      <ellipse className="drawing-shield" cx={x.strip - 84} cy={(top + bottom - row) / 2} rx="9" ry={(bottom - row - top) / 2 + 12} />
      <line className="drawing-shield" x1={x.strip - 84} x2={x.strip - 84} y1={bottom - row + 12} y2={bottom} />
      {near.map((part, i) => (
        <SeriesPart key={part.what} x={start + 96 + i * 40} from={top} to={bottom - row} name={part.what} />
      ))}
      <SenseJoint wired={wiring} box={box} start={start} strip={x.strip} y={y} />
      <text className="drawing-text" x={between} y={16} textAnchor="middle">
        {cable ? runText(cable, wiring, sign) : 'cable not stated'}
      </text>
      {box && wiring.sensorExtension ? (
        <text className="drawing-text" x={x.box - 6} y={16} textAnchor="end">
          {runText(wiring.sensorExtension, wiring, sign)}
        </text>
      ) : null}
    </svg>
  )
}

function runText(run: CableRun, wired: Wired, sign: '.' | ','): string {
  const ohms = runOhms(run, wired.temperature)
  const length = run.length ? `${numberText(run.length.value, sign)} ${units[run.length.unit].symbol}` : 'length not stated'
  return `${length}, ${conductorText(run.conductor, sign)}${ohms.ok ? `, ${fixedText(ohms.value, 2, sign)} Ω a lead` : ''}`
}

/** A full bridge of four arms, drawn as a diamond. */
function Bridge({ x: at, y }: { x: number; y: number }) {
  const r = 34
  return (
    <g>
      <path className="drawing-line" d={`M${at} ${y - r} L${at + r} ${y} L${at} ${y + r} L${at - r} ${y} Z`} />
      {[
        [-1, -1],
        [1, -1],
        [1, 1],
        [-1, 1],
      ].map(([dx = 0, dy = 0]) => (
        <rect
          key={`${dx} ${dy}`}
          className="drawing-arm"
          x={at + (dx * r) / 2 - 8}
          y={y + (dy * r) / 2 - 4}
          width="16"
          height="8"
          transform={`rotate(${dx * dy > 0 ? -45 : 45} ${at + (dx * r) / 2} ${y + (dy * r) / 2})`}
        />
      ))}
    </g>
  )
}

/** Corners of the bridge: excitation above and below, signal left and right. */
const corner = (role: LeadRole, at: number, middle: number): [number, number] =>
  role === 'excitation+'
    ? [at, middle - 34]
    : role === 'excitation-'
      ? [at, middle + 34]
      : role === 'signal+'
        ? [at + 34, middle]
        : [at - 34, middle]

const four: readonly LeadRole[] = ['excitation+', 'signal+', 'signal-', 'excitation-']

function paths(from: number, to: number, middle: number, y: (role: LeadRole) => number): string[] {
  return four.map((role) => {
    const [cx, cy] = corner(role, from, middle)
    const level = y(role)
    if (role === 'signal-') return `M${cx} ${cy} H${from - 44} V${middle + 46} H${from + 40} V${level} H${to}`
    return `M${cx} ${cy} ${role === 'signal+' ? `H${from + 40} V${level}` : `V${level}`} H${to}`
  })
}

function SensorLeads(p: { from: number; to: number; middle: number; y: (role: LeadRole) => number; bottom: number }) {
  return (
    <g>
      {paths(p.from, p.to, p.middle, p.y).map((d) => (
        <path key={d} className="drawing-line" d={d} />
      ))}
      <line className="drawing-shield" x1={p.from + 44} x2={p.to} y1={p.bottom} y2={p.bottom} />
    </g>
  )
}

function OwnLeads(p: { x: number; start: number; middle: number; y: (role: LeadRole) => number }) {
  return (
    <g>
      {paths(p.x, p.start, p.middle, p.y).map((d) => (
        <path key={d} className="drawing-line" d={d} />
      ))}
    </g>
  )
}

function SeriesPart(p: { x: number; from: number; to: number; name: string }) {
  return (
    <g>
      <rect className="drawing-box" x={p.x} y={p.from - 8} width="26" height={p.to - p.from + 16} />
      <text className="drawing-text" transform={`translate(${p.x + 17} ${(p.from + p.to) / 2}) rotate(-90)`} textAnchor="middle">
        {p.name}
      </text>
    </g>
  )
}

/** Dots where sense meets excitation; on four wires a link at sense terminals that would otherwise hang free. */
function SenseJoint(p: { wired: Wired; box: boolean; start: number; strip: number; y: (role: LeadRole) => number }) {
  const { wired, box, start, strip, y } = p
  if (wired.wires !== 6 || wired.senseAt === undefined) return null
  const at =
    wired.senseAt === 'indicator' ? strip - 4 : wired.senseAt === 'sensor' ? (box ? x.bridge + 20 : start - 4) : x.box + x.boxWidth / 2
  const pairs = [
    ['excitation+', 'sense+'],
    ['excitation-', 'sense-'],
  ] as const
  return (
    <g>
      {pairs.map(([feed, sense]) => (
        <g key={feed}>
          <path className="drawing-line" d={`M${Math.max(at, start)} ${y(sense)} H${at} V${y(feed)}`} />
          <circle className="drawing-dot" cx={at} cy={y(feed)} r="3" />
        </g>
      ))}
    </g>
  )
}
