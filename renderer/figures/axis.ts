export type Bounds = { from: number; to: number; step: number }

const steps = [1, 2, 2.5, 5, 10]

/** A round step that divides `span` into at most `most` parts. */
export function roundStep(span: number, most: number): number {
  const raw = span / most
  const power = 10 ** Math.floor(Math.log10(raw))
  return (steps.find((s) => s * power >= raw * (1 - 1e-9)) ?? 10) * power
}

/** Part of a step by which a value may reach over the bounds, so that a little noise about nought does not open another step. */
const overhang = 0.03

/** Round bounds around least and greatest, at least `span` apart; the outermost values reach over them by a few hundredths of a step at most. */
export function roundBounds(least: number, greatest: number, span: number, most = 5): Bounds {
  const missing = Math.max(0, span - (greatest - least)) / 2
  const [low, high] = [least - missing, greatest + missing]
  const step = roundStep(Math.max(high - low, 1e-9), most)
  return { from: Math.floor(low / step + overhang) * step, to: Math.ceil(high / step - overhang) * step, step }
}

/** Keeps earlier bounds as long as they still fit, so that an axis does not jump with every sample. */
export function steadyBounds(before: Bounds | undefined, least: number, greatest: number, span: number): Bounds {
  const wanted = roundBounds(least, greatest, span)
  if (!before) return wanted
  const slack = before.step * overhang
  const fits = least >= before.from - slack && greatest <= before.to + slack
  const roomy = wanted.to - wanted.from < (before.to - before.from) * 0.45
  return fits && !roomy ? before : wanted
}

/** Decimals that tell two ticks of this step apart. */
export function stepDecimals(step: number): number {
  for (let decimals = 0; decimals < 9; decimals += 1) {
    const scaled = step * 10 ** decimals
    if (Math.abs(scaled - Math.round(scaled)) < 1e-6) return decimals
  }
  return 9
}
