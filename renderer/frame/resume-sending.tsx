import { Button } from '@mantine/core'
import { explain } from '../figures/explain.ts'
import { useRequest } from '../state/host-context.tsx'

/** Lets every bus send again after a stop. `then`: what was waiting for it. */
export function ResumeSending({ then }: { then?: () => void }) {
  const { ask, running, failure } = useRequest('sending.resume')
  const resume = async () => {
    if ((await ask({})).ok) then?.()
  }
  return (
    <>
      <Button loading={running} onClick={() => void resume()}>
        {then ? 'Resume sending and read again' : 'Resume sending'}
      </Button>
      {failure ? <span className="lost">{explain(failure)}</span> : null}
    </>
  )
}
