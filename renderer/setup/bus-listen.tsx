import { Button } from '@mantine/core'
import type { Bus } from '../../app/job/schema.ts'
import { Failed } from '../parts/failed.tsx'
import { useRequest, useTopic } from '../state/host-context.tsx'

const seconds = 30

/** Listens without sending: whether somebody else speaks on the line, and saves its frames where that is wanted. */
export function BusListen({ bus }: { bus: Bus }) {
  const listen = useRequest('bus.listen')
  const stop = useRequest('bus.listen-stop')
  const tapStart = useRequest('bus.tap-start')
  const tapStop = useRequest('bus.tap-stop')
  const heard = useTopic('heard', bus.id)
  const tap = useTopic('tap', bus.id)
  const open = useTopic('bus', bus.id)?.state === 'open'
  const listening = heard?.state === 'listening'
  const failure = listen.failure ?? stop.failure ?? tapStart.failure ?? tapStop.failure
  return (
    <section className="stacked" aria-label={`Listen to ${bus.name}`}>
      <div className="button-row">
        {listening ? (
          <Button loading={stop.running} onClick={() => void stop.ask({ busId: bus.id })}>
            Stop listening
          </Button>
        ) : (
          <Button loading={listen.running} onClick={() => void listen.ask({ busId: bus.id, seconds })}>
            Listen to {bus.name} for {seconds} s
          </Button>
        )}
        {tap?.state === 'running' ? (
          <Button loading={tapStop.running} onClick={() => void tapStop.ask({ busId: bus.id })}>
            Stop saving frames
          </Button>
        ) : (
          <Button loading={tapStart.running} disabled={!open} onClick={() => void tapStart.ask({ busId: bus.id })}>
            Save every frame to a file
          </Button>
        )}
        <span className="second">Listening sends nothing; requests wait meanwhile.</span>
      </div>
      <Failed of={failure} />
      {heard ? (
        <div role="status" className="stacked">
          <p>
            {listening
              ? `Listening, ${Math.round(heard.heardMs / 1000)} of ${Math.round(heard.forMs / 1000)} s, ${heard.bytes} bytes. `
              : ''}
            <span className={heard.verdict === 'silent' ? '' : heard.verdict === 'other-master' ? 'lost' : 'attention'}>{heard.says}</span>
          </p>
          {heard.asks.map((a) => (
            <p key={`${a.unit} ${a.function}`} className="second">
              Unit {a.unit} is asked with function {a.function}, {a.times} {a.times === 1 ? 'time' : 'times'}
              {a.everyMs === null ? '' : `, every ${Math.round(a.everyMs)} ms`}.
            </p>
          ))}
        </div>
      ) : null}
      {tap ? (
        <p role="status" className={tap.state === 'failed' ? 'lost' : 'second'}>
          {tap.state === 'running' ? `Saving frames to ${tap.file}, ${tap.frames} so far.` : null}
          {tap.state === 'ended' ? `${tap.frames} frames kept in ${tap.file}.` : null}
          {tap.state === 'failed' ? tap.why : null}
        </p>
      ) : null}
    </section>
  )
}
