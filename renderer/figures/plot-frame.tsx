import { useElementSize } from '@mantine/hooks'
import type { ReactNode } from 'react'
import { useDecimalSign } from '../parts/decimal-sign.ts'
import { roundBounds, stepDecimals } from './axis.ts'
import { fixedText, numberText, signedFixedText } from './number-text.ts'

export type PlotScale = { x: (value: number) => number; y: (value: number) => number; width: number; height: number }

const margin = { left: 44, right: 72, top: 12, bottom: 24 }

/** A small drawn plot over the load: value axis with signs, load axis with its ends. The lines come from outside. */
export function PlotFrame(props: {
  label: string
  maximum: number
  loadUnit: string
  least: number
  greatest: number
  unit: string
  children: (scale: PlotScale) => ReactNode
}) {
  const sign = useDecimalSign()
  const { ref, width, height } = useElementSize()
  const { label, maximum, loadUnit, unit } = props
  const bounds = roundBounds(Math.min(0, props.least), Math.max(0, props.greatest), 0, 6)
  const inner = { width: Math.max(10, width - margin.left - margin.right), height: Math.max(10, height - margin.top - margin.bottom) }
  const scale: PlotScale = {
    ...inner,
    x: (value) => margin.left + (value / maximum) * inner.width,
    y: (value) => margin.top + ((bounds.to - value) / (bounds.to - bounds.from)) * inner.height,
  }
  const ticks = Array.from({ length: Math.round((bounds.to - bounds.from) / bounds.step) + 1 }, (_, i) => bounds.from + i * bounds.step)
  const decimals = stepDecimals(bounds.step)
  return (
    <div className="plot" ref={ref}>
      {width > 0 ? (
        <svg width={width} height={height} role="img" aria-label={label}>
          {ticks.map((tick) => (
            <g key={tick}>
              <line
                className={Math.abs(tick) < bounds.step / 1e6 ? 'plot-zero' : 'plot-rule'}
                x1={margin.left}
                x2={margin.left + inner.width}
                y1={scale.y(tick)}
                y2={scale.y(tick)}
              />
              <text className="plot-tick" x={margin.left - 8} y={scale.y(tick) + 4} textAnchor="end">
                {signedFixedText(tick, decimals, sign)}
              </text>
            </g>
          ))}
          <text className="plot-tick" x={margin.left - 8} y={margin.top + inner.height + 18} textAnchor="end">
            {unit}
          </text>
          <text className="plot-tick" x={margin.left} y={margin.top + inner.height + 18}>
            0
          </text>
          <text className="plot-tick" x={margin.left + inner.width / 2} y={margin.top + inner.height + 18} textAnchor="middle">
            {fixedText(maximum / 2, maximum / 2 === Math.round(maximum / 2) ? 0 : 1, sign)}
          </text>
          <text className="plot-tick" x={margin.left + inner.width} y={margin.top + inner.height + 18} textAnchor="middle">
            {numberText(String(maximum), sign)} {loadUnit}
          </text>
          {props.children(scale)}
        </svg>
      ) : null}
    </div>
  )
}
