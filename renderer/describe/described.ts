import type { DescriptionsView } from '../../app/contract/describe-calls.ts'
import type { PlaceId } from '../places/place-ids.ts'
import { open } from '../state/navigation.ts'

export type Described = DescriptionsView['drafts'][number]

/** Stands where a point's id would in the address; no id has a colon. */
const mark = 'describe:'

/** The description that is open: its id, '' where none has been begun or chosen yet, null where another screen is open. */
export const describedBy = (pointId: string | null): string | null => (pointId?.startsWith(mark) ? pointId.slice(mark.length) : null)

/** Opens the screen *Describe an indicator*. */
export const openDescription = (descriptionId: string, place: PlaceId): void => open({ pointId: `${mark}${descriptionId}`, place })
