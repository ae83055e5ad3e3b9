import { Command } from 'commander'
import { demo } from './demo.ts'

const program = new Command('spanwright')
  .description('Brings mV/V load cells and pressure transducers into service on Modbus indicators.')
  .showHelpAfterError()

program
  .command('demo')
  .description('the whole job on the practice bench, in the terminal; exit code 0 only if every step held')
  .option('--out <folder>', 'where the job and the handover sheet are left (a new folder unless given)')
  .addHelpText('after', '\nExample:\n  spanwright demo --out ./handover')
  .action(async (options: { out?: string }) => {
    process.exitCode = await demo(options)
  })

await program.parseAsync()
