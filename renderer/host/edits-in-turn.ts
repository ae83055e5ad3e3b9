import type { CallName, HostCalls, HostClient } from '../../app/contract/contract.ts'

/** Revisions between which nothing was decided but by this page: the one its edit was made on, and the one it came to. */
type Own = { from: number; to: number }

/**
 * Sends the edits of this page one after the other, and takes one that was begun before the page's own last edit had come back as made
 * on that: who types quickly is not told that the job was changed elsewhere. What somebody else decided in between is refused as ever.
 */
export function editsInTurn(client: HostClient): HostClient {
  const own = new Map<string, Own>()
  let last: Promise<unknown> = Promise.resolve()
  let serving: string | undefined
  client.listen((message) => {
    if (message.kind !== 'afresh' || message.serving === serving) return
    serving = message.serving
    own.clear()
  })

  async function send<N extends CallName>(name: N, request: Edit<N>, of: string | undefined): Promise<HostCalls[N]['reply']> {
    if (of !== serving) throw new Error('Another job is open by now. This change was not made.')
    const what = 'descriptionId' in request ? String(request.descriptionId) : 'job'
    const known = own.get(what)
    const follows = known && request.revision >= known.from && request.revision <= known.to
    const revision = follows ? known.to : request.revision
    const reply = await client.call(name, { ...request, revision })
    const came = cameTo(reply)
    if (came !== undefined && of === serving) own.set(what, { from: follows ? known.from : revision, to: came })
    return reply
  }

  return {
    ...client,
    call(name, request) {
      if (!isEdit(request)) return client.call(name, request)
      const of = serving
      const sent = last.then(() => send(name, request, of))
      last = sent.catch(() => {})
      return sent
    },
  }
}

type Edit<N extends CallName> = HostCalls[N]['request'] & { revision: number }

const isEdit = <N extends CallName>(request: HostCalls[N]['request']): request is Edit<N> =>
  'revision' in request && typeof request.revision === 'number'

function cameTo(reply: HostCalls[CallName]['reply']): number | undefined {
  if (!reply.ok || typeof reply.value !== 'object' || reply.value === null || !('revision' in reply.value)) return undefined
  return typeof reply.value.revision === 'number' ? reply.value.revision : undefined
}
