import { Command } from 'commander'
import { addBreakSeal } from './break-seal.ts'
import { addCheck } from './check.ts'
import { addDemo } from './demo-command.ts'
import { addEntrySheet } from './entry-sheet.ts'
import { addIdentify } from './identify.ts'
import { addImportPoints } from './import-points.ts'
import { addJob } from './job.ts'
import { addLive } from './live.ts'
import { addLog } from './log.ts'
import { addPorts } from './ports.ts'
import { addProfileCheck } from './profile-check.ts'
import { addRegisters } from './registers.ts'
import { addScan } from './scan.ts'
import { addSchema } from './schema.ts'
import { addSetAddress } from './set-address.ts'
import { addSettings } from './settings.ts'
import { addSimulate } from './simulate.ts'
import { addVisits } from './visits.ts'

/** All commands with their options and help; nothing is run yet. */
export function buildProgram(): Command {
  const program = new Command('spanwright')
    .description('Brings mV/V load cells and pressure transducers into service on Modbus indicators.')
    .showHelpAfterError()
    .exitOverride()
    .addHelpText(
      'after',
      '\nExit codes: 0 done, 1 failed, 2 wrong command line, 3 settings differ or a check is not within, 4 not allowed, 130 interrupted',
    )

  for (const add of [
    addDemo,
    addPorts,
    addIdentify,
    addSettings,
    addSetAddress,
    addLive,
    addCheck,
    addEntrySheet,
    addImportPoints,
    addBreakSeal,
    addRegisters,
    addScan,
    addProfileCheck,
    addSimulate,
    addJob,
    addVisits,
    addLog,
    addSchema,
  ])
    add(program)

  return program
}
