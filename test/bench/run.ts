import { availableParallelism, loadavg } from 'node:os'
import { parseArgs } from 'node:util'
import { showProgress } from '../../main/cli/progress.ts'
import { findPeer } from '../peers/peer.ts'
import { deadUnit } from './dead-unit.ts'
import { pagePart } from './page/page.ts'
import type { Part } from './part.ts'
import { settingsRead } from './settings-read.ts'
import { sixteenIndicators } from './sixteen-indicators.ts'
import { tableLines } from './table.ts'
import { wireShare } from './wire-share.ts'

const parts: readonly Part[] = [wireShare, deadUnit, sixteenIndicators, settingsRead, pagePart]
const usage = `npm run bench -- [${parts.map((p) => p.name).join('] [')}] [--full]`

const { values, positionals } = parseArgs({ options: { full: { type: 'boolean', default: false } }, allowPositionals: true })
const unknown = positionals.filter((name) => !parts.some((part) => part.name === name))
if (unknown.length > 0) {
  console.error(`There is no part ${unknown.join(', ')}. ${usage}`)
  process.exit(2)
}

const machine = () => `load ${loadavg()[0]?.toFixed(1)} on ${availableParallelism()} cores`
const pymodbus = findPeer('pymodbus')
console.log(`${values.full ? 'Full' : 'Short'} run, ${new Date().toISOString()}, ${machine()}`)
if (!pymodbus.ok) console.log(`Without pymodbus: ${pymodbus.why}`)

for (const part of parts) {
  if (positionals.length > 0 && !positionals.includes(part.name)) continue
  const progress = showProgress()
  const rows = await part.run({
    say: (text) => progress.say(`${part.name}: ${text}`),
    full: values.full,
    python: pymodbus.ok ? pymodbus.path : undefined,
  })
  progress.end()
  console.log(`\n${part.title} (${machine()})`)
  for (const note of part.notes) console.log(`  ${note}`)
  for (const line of tableLines(rows)) console.log(`  ${line}`)
}
