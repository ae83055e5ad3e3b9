import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { HostClient, Pushed } from '../../../app/contract/contract.ts'
import { editsInTurn } from '../../../renderer/host/edits-in-turn.ts'
import { type PracticeHost, startPracticeHost, value } from '../../builders/practice-host.ts'

let practice: PracticeHost
beforeEach(async () => {
  practice = await startPracticeHost({ start: false })
})
afterEach(() => practice.close())

const job = () => practice.host.topics.get('job')!
const point = () => job().points.find((p) => p.id === 'wt-101')!

/** A page beside the real host; `opensAnother` tells it that another job is served from now on. */
function openPage() {
  const listeners = new Set<(message: Pushed) => void>()
  const near: HostClient = {
    call: (name, request) => practice.host.call(name, request),
    listen(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    onReach: () => () => {},
  }
  const client = editsInTurn(near)
  const opensAnother = (serving: string) => {
    for (const tell of listeners) tell({ kind: 'afresh', serving, topics: [] })
  }
  return { client, opensAnother }
}
const put = (client: HostClient, revision: number, change: { scaleInterval?: string; tag?: string; name?: string }) =>
  client.call('point.edit', { pointId: 'wt-101', revision, change })

describe('edits of one page', () => {
  it('three that were begun before the first came back are all made, in the order of typing', async () => {
    const { client } = openPage()
    const begun = job().revision
    const answers = await Promise.all([
      put(client, begun, { name: 'Hopper north' }),
      put(client, begun, { scaleInterval: '0.5' }),
      put(client, begun, { tag: 'WT-901' }),
    ])
    expect(answers.map((a) => value(a).revision)).toEqual([begun + 1, begun + 2, begun + 3])
    expect(point()).toMatchObject({ name: 'Hopper north', scaleInterval: '0.5', tag: 'WT-901' })
  })

  it('one that was begun before somebody else decided is refused, although own ones came before and after', async () => {
    const { client } = openPage()
    const begun = job().revision
    value(await put(client, begun, { name: 'Hopper north' }))
    value(await practice.host.call('point.edit', { pointId: 'wt-101', revision: job().revision, change: { scaleInterval: '0.5' } }))
    const late = await put(client, begun, { scaleInterval: '1' })
    expect(late).toMatchObject({ ok: false, failure: { kind: 'stale', revision: begun + 2 } })
    value(await put(client, job().revision, { name: 'Hopper south' }))
    const later = await put(client, begun + 1, { scaleInterval: '1' })
    expect(later).toMatchObject({ ok: false, failure: { kind: 'stale', revision: begun + 3 } })
    expect(point()).toMatchObject({ name: 'Hopper south', scaleInterval: '0.5' })
  })

  it('one refused for what it says holds up none behind it', async () => {
    const { client } = openPage()
    const begun = job().revision
    const [refused, made] = await Promise.all([put(client, begun, { scaleInterval: '0' }), put(client, begun, { tag: 'WT-901' })])
    expect(refused.ok).toBe(false)
    expect(value(made).revision).toBe(begun + 1)
  })

  it('one that waits while another job is opened is not sent to that job', async () => {
    const { client, opensAnother } = openPage()
    opensAnother('mill 1')
    const begun = job().revision
    const first = put(client, begun, { name: 'Hopper north' })
    const second = put(client, begun, { scaleInterval: '0.5' })
    opensAnother('press 2')
    await expect(first).rejects.toThrow('Another job is open by now')
    await expect(second).rejects.toThrow('Another job is open by now')
    expect(job().revision).toBe(begun)
  })

  it('what was decided in a job that has been left vouches for nothing in the next one', async () => {
    const { client, opensAnother } = openPage()
    opensAnother('mill 1')
    const begun = job().revision
    value(await put(client, begun, { name: 'Hopper north' }))
    opensAnother('press 2')
    expect(await put(client, begun, { scaleInterval: '0.5' })).toMatchObject({ ok: false, failure: { kind: 'stale' } })
  })
})
