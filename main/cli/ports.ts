import type { Command } from 'commander'
import { listSerialPorts, sayPort } from '../bus/serial-ports.ts'
import { failed } from './command-end.ts'
import { exitCode } from './exit-codes.ts'
import { describeCommand, run } from './run-command.ts'

export function addPorts(program: Command): void {
  describeCommand(
    program.command('ports').description('the serial ports of this computer, with what the system says of each'),
    ['ports', 'ports --json'],
    'ports',
  ).action(
    run(async () => {
      const listed = await listSerialPorts()
      if (!listed.ok) return failed({ why: `The system does not list its serial ports: ${listed.failure}` })
      const ports = listed.value
      const lines = ports.map((p) => `${p.path.padEnd(16)} ${sayPort(p) || 'the system says nothing more'}`)
      return {
        exit: exitCode.done,
        lines: lines.length > 0 ? lines : ['No serial port. Is the adapter plugged in?'],
        json: { ok: true, ports },
      }
    }),
  )
}
