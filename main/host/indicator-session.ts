import type { IndicatorView } from '../../app/contract/views.ts'
import type { SettingsImage } from '../../app/job/schema.ts'
import type { CommandName } from '../../app/profile/schema.ts'
import { settingRegisters } from '../../app/profile/settings.ts'
import type { UnitIo } from '../indicator/unit-io.ts'
import type { Who } from '../indicator/who-answers.ts'
import { commandForbidden } from './may-write.ts'
import { adopt } from './session-adopt.ts'
import { sendCommand } from './session-command.ts'
import { sessionPreviews } from './session-previews.ts'
import { resolveJournal } from './session-resolve.ts'
import { type SessionOptions, sessionState } from './session-state.ts'
import { sessionWrite } from './session-write.ts'

/** One indicator as this host knows it: identified, read, compared, written, restored. */
export function createIndicatorSession(options: SessionOptions) {
  const { profile } = options
  const state = sessionState(options)
  const previews = sessionPreviews(state)
  const writing = sessionWrite(state)
  const { view, show } = state

  return {
    profile,
    get io(): UnitIo {
      return state.reach.io()
    },
    view,
    refresh: state.refresh,
    read: state.read,
    /** Told by the live loop; shown only when it changes, since polling is frequent; says whether it did. */
    heardLive(answering: IndicatorView['answering']): boolean {
      const kind = (a: IndicatorView['answering']) => (typeof a === 'string' ? a : a.kind)
      const changed = kind(answering) !== kind(view().answering)
      if (changed) show({ answering })
      return changed
    },

    identify: state.identify,
    vouch: state.vouch,

    preview: previews.preview,
    previewRestore: (to: SettingsImage) => previews.previewRestore(to),
    previewAddress: (unit: number) => previews.previewAddress(unit),
    writePreview: (previewId: string) => writing.writePreview(previews, previewId),
    adopt: (from: number, who: Who, agreesWithPanel: boolean) => adopt(state, previews, writing, from, who, agreesWithPanel),
    resolveJournal: (journalId: string, how: 'restore' | 'complete' | 'leave', agreesWithPanel: boolean) =>
      resolveJournal(state, writing, journalId, how, agreesWithPanel),

    commandForbidden: (name: CommandName) => commandForbidden(state, name),
    command: (name: CommandName, channel: number) => sendCommand(state, name, channel),

    settingCount: () => settingRegisters(profile).length,
  }
}

export type IndicatorSession = ReturnType<typeof createIndicatorSession>
