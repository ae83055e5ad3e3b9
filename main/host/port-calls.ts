import type { PortView } from '../../app/contract/bus-calls.ts'
import type { Handlers } from '../../app/contract/contract.ts'
import { ok } from '../../app/result.ts'
import { portAccess } from '../bus/port-access.ts'
import { listSerialPorts, type SerialPortInfo, sayPort } from '../bus/serial-ports.ts'
import { refuse } from './refusals.ts'
import type { World } from './world.ts'

export function portCalls(w: World): Pick<Handlers, 'ports.list'> {
  return {
    async 'ports.list'() {
      const listed = await listSerialPorts()
      if (!listed.ok) return refuse(`The system does not list its serial ports: ${listed.failure}`)
      return ok({ ports: [...practicePorts(w), ...listed.value.map((port) => serialPort(w, port))] })
    },
  }
}

function serialPort(w: World, port: SerialPortInfo): PortView {
  const bus = w.store.job.buses.find(({ link }) => link.kind === 'serial' && link.path === port.path)
  const named = bus ? { busId: bus.id } : {}
  const view = { kind: 'serial', path: port.path, says: sayPort(port), ...named } as const
  if (bus && (w.buses.has(bus.id) || w.taken.has(bus.id))) return { ...view, access: 'used-here', why: `${bus.name} has it open.` }
  return { ...view, ...portAccess(port.path) }
}

/** The bench says where each of its buses is; a job names them by key. */
function practicePorts(w: World): PortView[] {
  const { bench } = w
  if (!bench) return []
  return bench.buses().map(({ key, framing, at }) => {
    const bus = w.store.job.buses.find(({ link }) => link.kind === 'practice' && link.bus === key)
    return { kind: 'practice', bus: key, framing, at, ...(bus ? { busId: bus.id } : {}) }
  })
}
