import { type CSSProperties, useMemo, useState } from 'react'
import type { Job } from '../../app/job/schema.ts'
import { DescribeScreen } from '../describe/describe-screen.tsx'
import { describedBy } from '../describe/described.ts'
import { distanceOpen } from '../distance/distance-open.ts'
import { DistanceView } from '../distance/distance-view.tsx'
import { DropNotice } from '../jobs/drop-notice.tsx'
import { places } from '../places/places.ts'
import { Review } from '../review/review.tsx'
import { openReview, type ReviewRequest } from '../review/review-request.ts'
import { VisitComparisonView } from '../review/visit-comparison.tsx'
import { WriteLog } from '../review/write-log.tsx'
import { useConnection, useTopic } from '../state/host-context.tsx'
import { useView, type View } from '../state/navigation.ts'
import { usePointView } from '../state/point-view.ts'
import { useChosen } from '../table/choice.ts'
import { Chain } from './chain.tsx'
import { FootBar } from './foot-bar.tsx'
import { Header } from './header.tsx'
import { useHistory } from './history.ts'
import { StepMade } from './history-bar.tsx'
import { useKeys } from './keys.ts'
import { KeysHelp } from './keys-help.tsx'
import { Notices } from './notices.tsx'
import { PointList } from './point-list.tsx'
import { PointsTable, tableLeastPx } from './points-table.tsx'
import { sidePanel } from './side-panel.ts'
import { SidePanelView } from './side-panel-view.tsx'
import { useStopSending } from './stop-sending.ts'
import { useAnotherJob } from './use-another-job.ts'

/** The whole page: header, notices, table or open point, foot; and the review over it. */
export function Workbench() {
  const job = useTopic('job')
  const { connection } = useConnection()
  const view = useView()
  const { stop } = useStopSending()
  const reviewed = openReview.use()
  const [helpOpen, setHelpOpen] = useState(false)
  const [history, setHistory] = useState<'log' | 'changes' | null>(null)
  const { go } = useHistory()
  const actions = useMemo(
    () => ({ stop, help: () => setHelpOpen(true), undo: () => void go('undo'), redo: () => void go('redo') }),
    [stop, go],
  )
  useKeys(job, view, actions)
  useAnotherJob(job?.id)
  const far = distanceOpen.use()
  const chosen = useChosen(job)

  if (!job)
    return (
      <div className="page">
        <p className="waiting" role="status">
          {connection === 'lost' ? 'The connection to the host is lost; trying again.' : 'Connecting to the host…'}
        </p>
      </div>
    )
  const review = reviewed?.jobId === job.id ? reviewed.request : null
  const setReview = (request: ReviewRequest) => openReview.set({ jobId: job.id, request, begun: [] })
  const known = job.points.some((p) => p.id === view.pointId)
  const describing = describedBy(view.pointId)
  const farIds = chosen.length > 0 ? chosen : job.points.map((p) => p.id)
  return (
    <div className="page">
      <Header job={job} />
      <Notices job={job} reviewing={review !== null} onReview={setReview} />
      <DropNotice />
      <SidePanelView job={job} />
      {view.pointId !== null && known ? (
        <OpenPoint job={job} view={{ ...view, pointId: view.pointId }} />
      ) : describing !== null ? (
        <DescribeScreen job={job} descriptionId={describing} place={view.place} />
      ) : (
        <div className="main" style={{ '--table-least': `${tableLeastPx(job.points.length)}px` } as CSSProperties}>
          <PointsTable job={job} place={view.place} />
        </div>
      )}
      <StepMade />
      <FootBar
        job={job}
        openId={known ? view.pointId : null}
        chosen={chosen}
        onReview={setReview}
        onHelp={() => setHelpOpen(true)}
        onLog={() => setHistory('log')}
        onChanges={() => setHistory('changes')}
      />
      {review ? <Review job={job} request={review} onClose={() => openReview.set(null)} /> : null}
      {history === 'log' ? <WriteLog job={job} pointId={known ? view.pointId : null} onClose={() => setHistory(null)} /> : null}
      {history === 'changes' ? <VisitComparisonView job={job} onClose={() => setHistory(null)} /> : null}
      {far ? <DistanceView job={job} pointIds={view.pointId !== null && known ? [view.pointId] : farIds} /> : null}
      <KeysHelp
        opened={helpOpen}
        onClose={() => setHelpOpen(false)}
        onFirstSteps={() => {
          setHelpOpen(false)
          sidePanel.set('first-steps')
        }}
      />
    </div>
  )
}

function OpenPoint({ job, view }: { job: Job; view: View & { pointId: string } }) {
  const point = usePointView(view.pointId)
  if (!point) return null
  const Place = places[view.place]
  return (
    <div className="main">
      <PointList job={job} openId={view.pointId} place={view.place} />
      <div className="open-point">
        <Chain view={point} place={view.place} />
        <main className={`place place-${view.place}`} key={`${view.pointId} ${view.place}`}>
          <Place view={point} />
        </main>
      </div>
    </div>
  )
}
