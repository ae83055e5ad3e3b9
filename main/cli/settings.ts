import type { Command } from 'commander'
import { addSettingsCompare, addSettingsRead } from './settings-read.ts'
import { addSettingsResolve } from './settings-resolve.ts'
import { addSettingsRestore, addSettingsWrite } from './settings-write.ts'

export function addSettings(program: Command): void {
  const settings = program.command('settings').description('read, compare, write and restore what an indicator holds')
  for (const add of [addSettingsRead, addSettingsCompare, addSettingsWrite, addSettingsRestore, addSettingsResolve]) add(settings)
}
