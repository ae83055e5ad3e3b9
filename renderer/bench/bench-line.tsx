import { Button } from '@mantine/core'
import type { BenchUnitSeen, PracticeView } from '../../app/contract/practice-calls.ts'
import type { Bus, Indicator, Job, Point } from '../../app/job/schema.ts'
import { explain } from '../figures/explain.ts'
import { Failed } from '../parts/failed.tsx'
import { useRequest } from '../state/host-context.tsx'
import { BenchStranger, Displays } from './bench-stranger.tsx'
import { Pull } from './pull.tsx'

/** One line of the bench and the units on it: what can be pulled, switched off and disturbed, and how it is now. */
export function BenchLine({ job, bus, bench, seen }: { job: Job; bus: Bus; bench: PracticeView; seen: readonly BenchUnitSeen[] }) {
  const cable = useRequest('practice.cable')
  const master = useRequest('practice.other-master')
  const line = bench.buses[bus.id]
  if (!line) return null
  const units = job.indicators.filter((i) => i.busId === bus.id)
  const oneMaster = bus.link.kind === 'practice' && bus.link.framing === 'modbus-tcp'
  const others = line.otherMasterEveryMs
  const failure = cable.failure ?? master.failure
  const { adapter } = line
  return (
    <section className="bench-line" aria-label={bus.name}>
      <h4>{bus.name}</h4>
      <div className="button-row">
        <Pull
          what="cable"
          whose={bus.name}
          connected={line.cable}
          running={cable.running}
          onChange={(connected) => void cable.ask({ of: { busId: bus.id }, connected })}
        />
        {adapter === null ? null : (
          <Pull
            what="adapter"
            whose={bus.name}
            connected={adapter}
            running={cable.running}
            onChange={(connected) => void cable.ask({ of: { adapterOf: bus.id }, connected })}
          />
        )}
        {oneMaster ? (
          <span className="second small">a Modbus TCP connection has one master by itself</span>
        ) : others === null ? (
          <>
            <Button loading={master.running} onClick={() => void master.ask({ busId: bus.id, everyMs: 500 })}>
              Let another master ask
            </Button>
            <Button loading={master.running} onClick={() => void master.ask({ busId: bus.id, everyMs: 10_000 })}>
              … only every 10 s
            </Button>
          </>
        ) : (
          <>
            <span className="attention">another master asks every {others / 1000} s</span>
            <Button loading={master.running} onClick={() => void master.ask({ busId: bus.id, everyMs: null })}>
              End the other master
            </Button>
          </>
        )}
      </div>
      <Failed of={failure} />
      <ul className="bench-units">
        {units.map((unit) => (
          <BenchUnit
            key={unit.id}
            unit={unit}
            state={bench.indicators[unit.id]}
            channels={seen.find((s) => s.indicatorId === unit.id)?.channels ?? []}
            points={job.points.filter((p) => p.indicatorId === unit.id)}
            sensorsOut={bench.sensorsOut}
          />
        ))}
        {seen.map((s) => (s.indicatorId === null ? <BenchStranger key={s.unit} seen={s} /> : null))}
      </ul>
    </section>
  )
}

type UnitProps = {
  unit: Indicator
  state: PracticeView['indicators'][string] | undefined
  channels: BenchUnitSeen['channels']
  points: readonly Point[]
  sensorsOut: readonly string[]
}

function BenchUnit({ unit, state, channels, points, sensorsOut }: UnitProps) {
  const cable = useRequest('practice.cable')
  const power = useRequest('practice.power')
  const failure = cable.failure ?? power.failure
  const name = unit.name
  return (
    <li>
      <span className="bench-name">
        {name} <span className="second">unit {unit.unit}</span>
      </span>
      <Displays channels={channels} />
      {state ? (
        <span className="button-row">
          <Pull
            what="cable"
            whose={name}
            connected={state.cable}
            running={cable.running}
            onChange={(connected) => void cable.ask({ of: { indicatorId: unit.id }, connected })}
          />
          {points.map((point) => (
            <Pull
              key={point.id}
              what={points.length > 1 ? `sensor cable of ${point.tag}` : 'sensor cable'}
              whose={name}
              connected={!sensorsOut.includes(point.id)}
              running={cable.running}
              onChange={(connected) => void cable.ask({ of: { sensorsOf: point.id }, connected })}
            />
          ))}
          {state.power ? (
            <>
              <Button
                loading={power.running}
                aria-label={`${name}: off and on again; what was not saved is lost`}
                title="What was not saved in the unit is lost"
                onClick={() => void power.ask({ indicatorId: unit.id, power: 'cycle' })}
              >
                Off and on again
              </Button>
              <Button
                loading={power.running}
                aria-label={`${name}: switch it off`}
                onClick={() => void power.ask({ indicatorId: unit.id, power: 'off' })}
              >
                Switch it off
              </Button>
            </>
          ) : (
            <>
              <span className="attention">off</span>
              <Button
                loading={power.running}
                aria-label={`${name}: switch it on`}
                onClick={() => void power.ask({ indicatorId: unit.id, power: 'on' })}
              >
                Switch it on
              </Button>
            </>
          )}
        </span>
      ) : (
        <span className="second">not on the bench</span>
      )}
      {failure ? (
        <span className="lost" role="alert">
          {explain(failure)}
        </span>
      ) : null}
    </li>
  )
}
