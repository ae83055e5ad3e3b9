import { Button, NativeSelect, NumberInput, TextInput } from '@mantine/core'
import { type FormEvent, useEffect, useState } from 'react'
import type { PortView } from '../../app/contract/bus-calls.ts'
import type { Bus, Job } from '../../app/job/schema.ts'
import type { SerialFormat } from '../../app/profile/schema.ts'
import { Failed } from '../parts/failed.tsx'
import { useRequest } from '../state/host-context.tsx'
import { formatText } from './bus-words.ts'

type Link = Bus['link']
type Kind = Link['kind']
/** MODBUS over Serial Line V1.02, 2.5.1: 19,200 and even are the default; 502 is the port of MODBUS Messaging on TCP/IP V1.0b, 4.2.1. */
const standard: SerialFormat = { baud: 19_200, parity: 'even', stopBits: 1 }
const bauds = [1_200, 2_400, 4_800, 9_600, 19_200, 38_400, 57_600, 115_200]
const kinds: readonly { value: Kind; label: string }[] = [
  { value: 'serial', label: 'serial line' },
  { value: 'modbus-tcp', label: 'Modbus TCP' },
  { value: 'rtu-over-tcp', label: 'RTU over TCP' },
]

/** One bus: what it is called and by which way it is reached. */
export function BusForm({
  job,
  bus,
  onAdded,
  onDone,
}: {
  job: Job
  bus: Bus | null
  onAdded: (busId: string) => void
  onDone: () => void
}) {
  const list = useRequest('ports.list')
  const addition = useRequest('bus.add')
  const edit = useRequest('bus.edit')
  const opening = useRequest('bus.open')
  const [ports, setPorts] = useState<readonly PortView[]>([])
  const [name, setName] = useState(bus?.name ?? '')
  const [link, setLink] = useState<Link | null>(bus?.link ?? null)
  const { ask: askPorts } = list
  useEffect(() => {
    void askPorts({}).then((answer) => {
      if (!answer.ok) return
      setPorts(answer.value.ports)
      setLink((now) => now ?? firstLink(job.simulated, answer.value.ports))
    })
  }, [askPorts, job.simulated])
  const failure = addition.failure ?? edit.failure ?? opening.failure ?? list.failure

  const save = async (event: FormEvent) => {
    event.preventDefault()
    if (!link) return
    const named = name.trim() || nameAfter(link)
    if (bus) {
      const changed = JSON.stringify(link) === JSON.stringify(bus.link) ? { name: named } : { name: named, link }
      const answer = await edit.ask({ revision: job.revision, busId: bus.id, change: changed })
      if (answer.ok) onDone()
      return
    }
    const answer = await addition.ask({ revision: job.revision, bus: { name: named, link } })
    if (!answer.ok) return
    const opened = await opening.ask({ busId: answer.value.id })
    if (opened.ok) onAdded(answer.value.id)
  }

  return (
    <form className="stacked" onSubmit={save} aria-label={bus ? `Edit ${bus.name}` : 'Add a bus'}>
      <div className="field-row">
        <TextInput label="Name" value={name} placeholder={link ? nameAfter(link) : ''} onChange={(e) => setName(e.currentTarget.value)} />
        {link && link.kind !== 'practice' ? (
          <NativeSelect
            label="Reached by"
            value={link.kind}
            data={kinds.map((k) => ({ ...k }))}
            onChange={(e) => setLink(linkOf(e.currentTarget.value as Kind, ports))}
          />
        ) : null}
        {link ? <LinkFields link={link} ports={ports} onChange={setLink} /> : null}
        <Button type="submit" className="in-field-row" disabled={!link} loading={addition.running || edit.running || opening.running}>
          {bus ? 'Keep this' : 'Add and open the bus'}
        </Button>
        <Button className="in-field-row" onClick={onDone}>
          Cancel
        </Button>
      </div>
      <Failed of={failure} />
      {!link && !list.running ? <p>Every line of the practice bench is in this job already.</p> : null}
      {!bus && link && link.kind !== 'modbus-tcp' ? (
        <p className="second">It listens for two seconds before it sends anything: another master on the line would be heard.</p>
      ) : null}
    </form>
  )
}

function LinkFields({ link, ports, onChange }: { link: Link; ports: readonly PortView[]; onChange: (link: Link) => void }) {
  if (link.kind === 'practice')
    return (
      <NativeSelect
        label="Line of the practice bench"
        value={link.bus}
        data={ports.flatMap((p) => (p.kind === 'practice' && (p.busId === undefined || p.bus === link.bus) ? [p.bus] : []))}
        onChange={(e) => {
          const port = ports.find((p) => p.kind === 'practice' && p.bus === e.currentTarget.value)
          if (port?.kind === 'practice') onChange({ kind: 'practice', bus: port.bus, framing: port.framing })
        }}
      />
    )
  const serial = ports.flatMap((p) => (p.kind === 'serial' ? [p] : []))
  const known = link.kind === 'serial' && serial.some((p) => p.path === link.path)
  const chosen = link.kind === 'serial' ? serial.find((p) => p.path === link.path) : undefined
  return (
    <>
      {link.kind === 'serial' ? (
        <NativeSelect
          label="Port"
          value={link.path}
          error={chosen?.why}
          data={[
            ...(known ? [] : [{ value: link.path, label: link.path || 'no port found' }]),
            ...serial.map((p) => ({ value: p.path, label: `${p.path} ${p.says}`.trim() })),
          ]}
          onChange={(e) => onChange({ ...link, path: e.currentTarget.value })}
        />
      ) : (
        <>
          <TextInput
            label="Address"
            placeholder="192.168.1.20"
            value={link.host}
            onChange={(e) => onChange({ ...link, host: e.currentTarget.value })}
          />
          <NumberInput
            label="TCP port"
            className="short-input"
            value={link.port}
            min={1}
            max={65_535}
            allowDecimal={false}
            hideControls
            onChange={(port) => (typeof port === 'number' && port > 0 ? onChange({ ...link, port }) : undefined)}
          />
        </>
      )}
      {link.kind === 'modbus-tcp' ? null : <FormatField format={link.format} onChange={(format) => onChange({ ...link, format })} />}
    </>
  )
}

const parities = ['none', 'even', 'odd'] as const

function FormatField({ format, onChange }: { format: SerialFormat; onChange: (format: SerialFormat) => void }) {
  return (
    <>
      <NativeSelect
        label="Baud"
        className="short-input"
        value={String(format.baud)}
        data={[...new Set([...bauds, format.baud])].sort((a, b) => a - b).map((b) => ({ value: String(b), label: String(b) }))}
        onChange={(e) => onChange({ ...format, baud: Number(e.currentTarget.value) })}
      />
      <NativeSelect
        label="Parity and stop bits"
        value={`${format.parity} ${format.stopBits}`}
        data={parities.flatMap((parity) => ([1, 2] as const).map((stop) => ({ value: `${parity} ${stop}`, label: `${parity}, ${stop}` })))}
        onChange={(e) => {
          const [parity, stop] = e.currentTarget.value.split(' ')
          onChange({ ...format, parity: parities.find((p) => p === parity) ?? 'even', stopBits: stop === '2' ? 2 : 1 })
        }}
      />
    </>
  )
}

function firstLink(simulated: boolean, ports: readonly PortView[]): Link | null {
  if (!simulated) return linkOf('serial', ports)
  const free = ports.find((p) => p.kind === 'practice' && p.busId === undefined)
  return free?.kind === 'practice' ? { kind: 'practice', bus: free.bus, framing: free.framing } : null
}

function linkOf(kind: Kind, ports: readonly PortView[]): Link {
  if (kind === 'modbus-tcp') return { kind, host: '', port: 502 }
  if (kind === 'rtu-over-tcp') return { kind, host: '', port: 4001, format: standard }
  const serial = ports.flatMap((p) => (p.kind === 'serial' ? [p] : []))
  const free = serial.find((p) => p.access === 'seems-free' && p.busId === undefined) ?? serial[0]
  return { kind: 'serial', path: free?.path ?? '', format: standard }
}

function nameAfter(link: Link): string {
  switch (link.kind) {
    case 'serial':
      return link.path ? `${link.path.split('/').at(-1)} ${formatText(link.format)}` : 'Serial line'
    case 'practice':
      return `Practice ${link.bus}`
    default:
      return link.host || 'Network'
  }
}
