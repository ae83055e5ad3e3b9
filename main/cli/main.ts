import { Command, CommanderError } from 'commander'
import { addCheck } from './check.ts'
import { demo } from './demo.ts'
import { addEntrySheet } from './entry-sheet.ts'
import { exitCode } from './exit-codes.ts'
import { addIdentify } from './identify.ts'
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

const program = new Command('spanwright')
  .description('Brings mV/V load cells and pressure transducers into service on Modbus indicators.')
  .showHelpAfterError()
  .exitOverride()
  .addHelpText(
    'after',
    '\nExit codes: 0 done, 1 failed, 2 wrong command line, 3 settings differ or a check is not within, 4 not allowed, 130 interrupted',
  )

program
  .command('demo')
  .description('the whole job on the practice bench, in the terminal; exit code 0 only if every step held')
  .option('--out <folder>', 'where the job and the handover sheet are left (a new folder unless given)')
  .addHelpText('after', '\nExample:\n  spanwright demo --out ./handover')
  .action(async (options: { out?: string }) => {
    process.exitCode = await demo(options)
  })

for (const add of [
  addPorts,
  addIdentify,
  addSettings,
  addSetAddress,
  addLive,
  addCheck,
  addEntrySheet,
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

try {
  await program.parseAsync()
} catch (cause) {
  if (!(cause instanceof CommanderError)) throw cause
  process.exitCode = cause.exitCode === 0 ? exitCode.done : exitCode.usage
}
