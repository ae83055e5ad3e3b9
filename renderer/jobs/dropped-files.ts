import { useCallback, useRef } from 'react'
import { largestImport, longestPart } from '../../app/contract/job-file-calls.ts'
import { type Explainable, explain } from '../figures/explain.ts'
import { useAsking } from '../state/host-context.tsx'
import { sharedState } from '../state/shared-state.ts'

type Drop =
  | { kind: 'over' }
  | { kind: 'running'; name: string; percent: number }
  | { kind: 'replace'; name: string; text: string; why: string }
  | { kind: 'done'; text: string }
  | { kind: 'failed'; text: string }
  | null

/** What is being done with a file dropped onto the window. */
export const drop = sharedState<Drop>(null)

const largestProfile = 900_000
const bytesAPart = Math.floor(longestPart / 4) * 3

export type Taken = 'profile' | 'job' | { refused: string }

/** What a dropped file is taken for, by its name and size. */
export function takenFor(name: string, bytes: number): Taken {
  const lower = name.toLowerCase()
  const profile = lower.endsWith('.profile.json')
  if (!profile && !lower.endsWith('.job.json') && !lower.endsWith('.zip'))
    return { refused: `${name} is none of the files that are taken: a bundle (X.zip), a job (X.job.json) or a profile (X.profile.json).` }
  if (bytes === 0) return { refused: `${name} is empty.` }
  const most = profile ? largestProfile : largestImport
  if (bytes > most) return { refused: `${name} has ${mega(bytes)} MB; at most ${mega(most)} MB are taken.` }
  return profile ? 'profile' : 'job'
}

const mega = (bytes: number) => (bytes / 1_000_000).toFixed(1)

/** Hands a dropped file to the host; a job or bundle goes in parts and can be given up on the way. */
export function useDroppedFile() {
  const ask = useAsking()
  const cancelled = useRef(false)
  const fail = useCallback((name: string, failure: Explainable) => {
    const where = failure.kind === 'refused-request' && failure.where ? ` (${failure.where})` : ''
    drop.set({ kind: 'failed', text: `${name} was not taken: ${explain(failure)}${where}` })
  }, [])

  const profile = useCallback(
    async (name: string, text: string, replace: boolean) => {
      const answer = await ask('profile.import', { text, replace })
      if (answer.ok)
        return drop.set({ kind: 'done', text: `The profile ${answer.value.profileId} is in this job now, kept as ${answer.value.path}.` })
      const { failure } = answer
      if (failure.kind === 'unfit') {
        const [first, ...more] = failure.problems
        const rest = more.length > 0 ? ` And ${more.length} more.` : ''
        return drop.set({ kind: 'failed', text: `${name} is no sound profile. ${first ? `${first.path}: ${first.message}` : ''}${rest}` })
      }
      if (failure.kind === 'refused-request' && failure.where === 'id' && !replace && failure.why.includes('Replace it'))
        return drop.set({ kind: 'replace', name, text, why: failure.why })
      fail(name, failure)
    },
    [ask, fail],
  )

  const job = useCallback(
    async (file: File) => {
      const begun = await ask('import.begin', { name: file.name, bytes: file.size })
      if (!begun.ok) return fail(file.name, begun.failure)
      const { importId } = begun.value
      for (let at = 0; at < file.size; at += bytesAPart) {
        drop.set({ kind: 'running', name: file.name, percent: Math.floor((100 * at) / file.size) })
        const base64 = await base64Of(file.slice(at, at + bytesAPart))
        const part = cancelled.current ? null : await ask('import.part', { importId, base64 })
        if (part === null) {
          await ask('import.cancel', { importId })
          return drop.set({ kind: 'done', text: `${file.name} was given up; nothing of it is kept.` })
        }
        if (!part.ok) return fail(file.name, part.failure)
      }
      const ended = await ask('import.end', { importId })
      if (!ended.ok) return fail(file.name, ended.failure)
      drop.set({ kind: 'done', text: `${ended.value.name} is open now, kept as ${ended.value.path}.` })
    },
    [ask, fail],
  )

  const take = useCallback(
    async (file: File) => {
      const taken = takenFor(file.name, file.size)
      if (typeof taken === 'object') return drop.set({ kind: 'failed', text: taken.refused })
      cancelled.current = false
      drop.set({ kind: 'running', name: file.name, percent: 0 })
      if (taken === 'job') return job(file)
      return profile(file.name, await file.text(), false)
    },
    [job, profile],
  )
  const cancel = useCallback(() => {
    cancelled.current = true
  }, [])
  return { take, replaceProfile: (name: string, text: string) => void profile(name, text, true), cancel }
}

function base64Of(part: Blob): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader()
    reader.onload = () => resolve(String(reader.result).replace(/^[^,]*,/, ''))
    reader.onerror = () => reject(reader.error ?? new Error('The file cannot be read.'))
    reader.readAsDataURL(part)
  })
}
