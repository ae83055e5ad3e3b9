import { useMemo } from 'react'
import { TrendPanel } from '../figures/trend/trend-panel.tsx'
import { usePointViews } from '../state/point-view.ts'

/** More curves than this cannot be told apart. */
const mostTraces = 8

/** The trend of the chosen points; of the first of them where there are many. */
export function ChosenTrend({ pointIds }: { pointIds: readonly string[] }) {
  const all = pointIds.join()
  const first = useMemo(() => all.split(',').slice(0, mostTraces), [all])
  const views = usePointViews(first)
  const [only] = views
  const heading = pointIds.length > mostTraces ? `First ${mostTraces} of ${pointIds.length} chosen` : `${views.length} chosen`
  if (!only) return null
  return (
    <section className="trend-below" aria-label="Trend">
      <TrendPanel views={views} heading={<h2>{views.length === 1 ? only.point.tag : heading}</h2>} />
    </section>
  )
}
