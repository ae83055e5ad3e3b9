import { isScaling } from '../../../app/profile/scaling-registers.ts'
import { Failed } from '../../parts/failed.tsx'
import { useTopic } from '../../state/host-context.tsx'
import type { PointView } from '../../state/point-view.ts'
import { useIntend } from '../../state/use-intend.ts'

/** Takes back what is intended: of one setting, or of a scaling, whose values stand or fall together. */
export function KeepHeld({ view, of, name }: { view: PointView; of: string; name: string }) {
  const revision = useTopic('job')?.revision ?? 0
  const { takeBack, failure } = useIntend(view)
  const [keys, says] = isScaling(of)
    ? [Object.keys(view.point.intended).filter(isScaling), 'Keep the scaling that is held']
    : [[of], 'Keep what is held']
  return (
    <>
      {' '}
      <button
        type="button"
        className="plain-link small"
        aria-label={isScaling(of) ? undefined : `${says}: ${name}`}
        disabled={Boolean(view.state?.writing) || Boolean(view.runningCheck)}
        onClick={() => void takeBack(revision, keys)}
      >
        {says}
      </button>
      <Failed of={failure} small />
    </>
  )
}
