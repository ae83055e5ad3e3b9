import type { addressCalls as addressContract } from '../../app/contract/address-calls.ts'
import type { Handlers } from '../../app/contract/contract.ts'
import { fail, ok } from '../../app/result.ts'
import { addressCalls } from './address-calls.ts'
import { keepAsFound } from './job-calls.ts'
import { refuse } from './refusals.ts'
import type { World } from './world.ts'

type IndicatorCalls = Pick<
  Handlers,
  | 'indicator.identify'
  | 'indicator.vouch'
  | 'settings.read'
  | 'settings.preview'
  | 'settings.preview-restore'
  | 'settings.write'
  | 'journal.resolve'
  | keyof typeof addressContract
>

export function indicatorCalls(w: World): IndicatorCalls {
  const previewOwner = new Map<string, string>()
  const unknown = (indicatorId: string) => refuse(`There is no indicator ${indicatorId} in this job.`, 'indicatorId')

  const keepImage = (indicatorId: string) => {
    const held = w.sessions.get(indicatorId)?.view().held
    if (held) keepAsFound(w, indicatorId, held)
  }

  return {
    ...addressCalls(w, (previewId, indicatorId) => previewOwner.set(previewId, indicatorId)),

    async 'indicator.identify'({ indicatorId }) {
      return (await w.sessions.get(indicatorId)?.identify()) ?? unknown(indicatorId)
    },

    async 'indicator.vouch'({ indicatorId, agrees }) {
      const session = w.sessions.get(indicatorId)
      return session ? ok(session.vouch(agrees)) : unknown(indicatorId)
    },

    async 'settings.read'({ indicatorId }) {
      const session = w.sessions.get(indicatorId)
      if (!session) return unknown(indicatorId)
      const image = await session.read()
      if (image.ok) keepImage(indicatorId)
      return image
    },

    async 'settings.preview'({ indicatorId }) {
      const session = w.sessions.get(indicatorId)
      if (!session) return unknown(indicatorId)
      const preview = await session.preview()
      if (preview.ok) previewOwner.set(preview.value.previewId, indicatorId)
      return preview
    },

    async 'settings.preview-restore'({ indicatorId, to }) {
      const session = w.sessions.get(indicatorId)
      if (!session) return unknown(indicatorId)
      const target =
        to === 'as-found' ? w.store.job.visits.find((v) => v.id === w.session.visitId)?.found[indicatorId] : beforeLastWrite(w, indicatorId)
      if (!target)
        return refuse(
          to === 'as-found' ? 'No settings were read as found in this visit.' : 'Nothing has been written to this indicator yet.',
          'to',
        )
      const preview = await session.previewRestore(target)
      if (preview.ok) previewOwner.set(preview.value.previewId, indicatorId)
      return preview
    },

    async 'settings.write'({ previewId }) {
      const indicatorId = previewOwner.get(previewId)
      const session = indicatorId === undefined ? undefined : w.sessions.get(indicatorId)
      if (indicatorId === undefined || !session)
        return fail({ kind: 'not-allowed', why: 'This preview is no longer current. Review again.' })
      const barred = needsVisit(w)
      if (barred) return fail({ kind: 'not-allowed', why: barred })
      // What the preview read is as found where nothing was kept in this visit yet; after the write it would be too late.
      keepImage(indicatorId)
      const result = await session.writePreview(previewId)
      keepImage(indicatorId)
      return result
    },

    async 'journal.resolve'({ indicatorId, journalId, how, agreesWithPanel = false }) {
      const session = w.sessions.get(indicatorId)
      if (!session) return fail({ kind: 'not-allowed', why: `There is no indicator ${indicatorId} in this job.` })
      const result = await session.resolveJournal(journalId, how, agreesWithPanel)
      keepImage(indicatorId)
      return result
    },
  }
}

/** As found must be kept before anything is changed, and a change needs a name. */
const needsVisit = (w: World): string | null =>
  w.session.visitId === null
    ? 'Say who is at the machine first: a write is logged with a name, and as-found settings are kept before it.'
    : null

function beforeLastWrite(w: World, indicatorId: string) {
  const written = w.store.journal
    .all()
    .filter((j) => j.begin.indicatorId === indicatorId && j.lines.some((line) => line.kind === 'sending'))
  return written.at(-1)?.begin.before
}
