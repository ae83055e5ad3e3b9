import { parallelSignal } from '../../bridge/signal.ts'
import type { Certificate, Point } from '../../job/schema.ts'
import { type Exact, exact, zero } from '../../quantity/exact.ts'
import { fail, ok, type Result } from '../../result.ts'
import { type CurvePoint, inBridgeSignal, type LineScaling, labelOf, lineFromCertificates } from '../certificate-scaling.ts'
import { signalOnCurve } from '../curve.ts'
import { loadHere } from '../gravity-ratio.ts'
import type { ScalingFailure, ScalingWarning } from '../scaling-failure.ts'

/** Rows of one sensor, by load as part of its capacity; rising. */
function rowsOf(certificate: Certificate, index: number, point: Point): Result<CurvePoint[], ScalingFailure> {
  const label = labelOf(certificate, index)
  if (!certificate.capacity) return fail({ kind: 'capacity-missing', certificate: label })
  const capacity = loadHere(certificate.capacity, certificate, label, point)
  if (!capacity.ok) return capacity
  const rows: CurvePoint[] = []
  for (const row of certificate.table ?? []) {
    const load = loadHere(row.load, certificate, label, point)
    if (!load.ok) return load
    const signal = inBridgeSignal(exact(row.output.value), row.output.unit, certificate, label, 'output of the table')
    if (!signal.ok) return signal
    rows.push({ load: load.value.load.div(capacity.value.load), signal: signal.value })
  }
  rows.sort((a, b) => a.load.compare(b.load))
  if (rows.length < 2) return fail({ kind: 'source-incomplete', need: `the table of ${label} needs two rows at least` })
  if (rows.some((row, i) => i > 0 && (row.load.equals(rows[i - 1]?.load ?? zero) || row.signal.lte(rows[i - 1]?.signal ?? zero))))
    return fail({ kind: 'source-incomplete', need: `in the table of ${label} the outputs have to rise with the loads, each load once` })
  return ok(rows)
}

/**
 * Line and curve of a point from the tables of its certificates, straight between their rows; the outputs as printed, with the zero in them.
 * The line goes through the signals at no load and at maximum load, dead load on. Units and limits as `lineFromCertificates`.
 */
export function lineFromTables(point: Point): Result<LineScaling, ScalingFailure> {
  const plain = lineFromCertificates(point)
  if (!plain.ok) return plain
  const { line, warnings } = plain.value
  const tables: CurvePoint[][] = []
  for (const [i, certificate] of point.sensors.certificates.entries()) {
    const rows = rowsOf(certificate, i, point)
    if (!rows.ok) return rows
    tables.push(rows.value)
  }
  const parts = tables.flat().map((row) => row.load)
  const distinct = parts.filter((part, i) => parts.findIndex((p) => p.equals(part)) === i).sort((a, b) => a.compare(b))
  // counted from the dead load, as the point counts its loads
  const curve = distinct.map((part) => ({
    load: part.mul(line.capacityLoad).sub(line.deadLoad),
    signal: parallelSignal(tables.map((rows) => signalOnCurve(rows, part))).mul(line.leadsLeave),
  }))
  const [zeroSignal, full] = [signalOnCurve(curve, zero), signalOnCurve(curve, line.maximumLoad)]
  const slope = full.sub(zeroSignal).div(line.maximumLoad)
  const beyond: ScalingWarning[] = tables.some((rows) => outside(rows, line.deadLoad.add(line.maximumLoad).div(line.capacityLoad)))
    ? [
        {
          kind: 'beyond-table',
          why: 'Maximum load with dead load lies above the last row of a table: beyond it the last two rows are carried on, uncertified.',
        },
      ]
    : []
  const said = warnings.filter((w) => w.kind !== 'zero-balance-not-stated')
  return ok({
    line: { ...line, zeroSignal, slope, ratedOutput: slope.mul(line.capacityLoad).div(line.leadsLeave) },
    curve,
    warnings: [...said, ...beyond],
  })
}

const outside = (rows: readonly CurvePoint[], part: Exact) => rows.every((row) => row.load.lt(part))
