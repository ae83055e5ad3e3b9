import { sharedState } from '../state/shared-state.ts'

export type StepState = 'queued' | 'running' | 'done' | 'look' | 'failed' | 'left-out'
export type Step = { key: string; tag: string; state: StepState; says: string }
/** One action on several points: how far it is with each. It stays until it is dismissed. */
export type Run = { id: number; title: string; steps: readonly Step[]; ended: boolean; ending: boolean }
export type Outcome = { state: 'done' | 'look' | 'failed'; says: string }
/** What is to be done for one point or indicator. Those of one lane take turns, lanes go side by side. */
export type Item = { key: string; tag: string; lane: string; act: () => Promise<Outcome> }

export const runs = sharedState<readonly Run[]>([])
let lastId = 0

const change = (id: number, how: (run: Run) => Run) => runs.set((now) => now.map((run) => (run.id === id ? how(run) : run)))
const step = (id: number, key: string, to: Partial<Step>) =>
  change(id, (run) => ({ ...run, steps: run.steps.map((s) => (s.key === key ? { ...s, ...to } : s)) }))
const ending = (id: number) => runs.get().find((run) => run.id === id)?.ending ?? true

/** Does it for each item: side by side across lanes (buses), one after another within. Each ends by itself. */
export async function runSeveral(title: string, items: readonly Item[]): Promise<void> {
  lastId += 1
  const id = lastId
  const steps = items.map(({ key, tag }): Step => ({ key, tag, state: 'queued', says: 'queued' }))
  runs.set((now) => [{ id, title, steps, ended: false, ending: false }, ...now.filter((run) => !run.ended)])
  const lanes = Map.groupBy(items, (item) => item.lane)
  await Promise.all(
    [...lanes.values()].map(async (lane) => {
      for (const item of lane) {
        if (ending(id)) {
          step(id, item.key, { state: 'left-out', says: 'not started' })
          continue
        }
        step(id, item.key, { state: 'running', says: 'running' })
        step(id, item.key, await item.act())
      }
    }),
  )
  change(id, (run) => ({ ...run, ended: true }))
}

/** What has not begun is left out; what is under way goes to its end. */
export const endAfterThis = (id: number): void => change(id, (run) => ({ ...run, ending: true }))
export const dismissRun = (id: number): void => runs.set((now) => now.filter((run) => run.id !== id))
