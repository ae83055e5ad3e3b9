/** One line of the result. `met` is absent where there is no aim, or where the measurement could not tell. */
export type Row = { what: string; measured: string; aim?: string; met?: boolean }

const heads = ['what', 'measured', 'aim', 'met']

/** The rows as lines of a table with aligned columns. */
export function tableLines(rows: readonly Row[]): string[] {
  const cells = rows.map(({ what, measured, aim, met }) => [what, measured, aim ?? '', met === undefined ? '' : met ? 'met' : 'NOT met'])
  const widths = heads.map((head, i) => Math.max(head.length, ...cells.map((row) => row[i]?.length ?? 0)))
  const line = (row: readonly string[]) =>
    row
      .map((cell, i) => cell.padEnd(widths[i] ?? 0))
      .join('  ')
      .trimEnd()
  return [line(heads), line(widths.map((w) => '-'.repeat(w))), ...cells.map(line)]
}

export const percent = (share: number): string => (Number.isFinite(share) ? `${(100 * share).toFixed(1)} %` : 'nothing')
export const cores = (cpuMs: number, elapsedMs: number): string => `${(cpuMs / elapsedMs).toFixed(2)} core`

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  return ((sorted[sorted.length >> 1] ?? Number.NaN) + (sorted[(sorted.length - 1) >> 1] ?? Number.NaN)) / 2
}
