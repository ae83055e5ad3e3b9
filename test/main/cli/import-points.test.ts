import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { beforeEach, expect, it } from 'vitest'
import type { Job } from '../../../app/job/schema.ts'
import { createJob } from '../../../main/files/job-store.ts'
import { fitting, spanwright } from '../../builders/command-line.ts'
import { panelJob } from '../../builders/panel-job.ts'

let folder: string
const jobPath = () => join(folder, 'site.job.json')
const tags = () => (JSON.parse(readFileSync(jobPath(), 'utf8')) as Job).points.map((p) => p.tag)
const importPoints = (...args: string[]) => spanwright('import-points', '--job', jobPath(), ...args)
const before = ['WT-101', 'WT-401', 'FT-501']

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'spanwright-import-'))
  const made = createJob(jobPath(), panelJob())
  if (!made.ok) throw new Error(made.failure.why)
})

function sheet(...rows: string[]): string {
  const file = join(folder, 'points.csv')
  writeFileSync(file, ['Tag,Most,Scale interval (kg)', ...rows, ''].join('\n'))
  return file
}

it('reads a sheet with the columns as said; a dry run adds nothing', async () => {
  const file = sheet('WT-601,1000 kg,0.2', 'WT-602,500 kg,0.1')
  const columns = ['--column', 'maximumLoad=Most']
  const dry = await importPoints(file, ...columns, '--dry-run')
  expect(dry.code).toBe(0)
  expect(dry.out).toContain('"Most" is maximumLoad')
  expect(tags()).toEqual(before)
  const { code, out } = await importPoints(file, ...columns, '--json')
  expect(code).toBe(0)
  expect(fitting('import-points', out)).toMatchObject({
    added: true,
    errors: [],
    points: [{ tag: 'WT-601' }, { tag: 'WT-602', maximumLoad: '500' }],
  })
  expect(tags()).toEqual([...before, 'WT-601', 'WT-602'])
})

it('tells how many sensors each point would get, and asks where a column may be serial numbers', async () => {
  const file = join(folder, 'cells.csv')
  const rows = ['WT-601,3000 kg,1,4,1000 kg', 'WT-602,500 kg,0.1,1,500 kg', '']
  writeFileSync(file, ['Tag,Maximum load,d,Cells,Capacity', ...rows].join('\n'))
  const dry = await importPoints(file, '--dry-run')
  expect(dry.out).toContain('"Cells" is sensorCount')
  expect(dry.out).toMatch(/WT-601 .*, 4 × 1000 kg\n/)
  expect(dry.out).toMatch(/WT-602 .*, 1 × 500 kg\n/)
  writeFileSync(file, ['Tag,Maximum load,d,Serials,Capacity', ...rows].join('\n'))
  expect((await importPoints(file, '--dry-run')).err).toMatch(/row 1, Serials: .*Choose which it is/)
  expect((await importPoints(file, '--column', 'sensorCount=Serials', '--dry-run')).out).toMatch(/WT-601 .*, 4 × 1000 kg\n/)
})

it('one wrong row adds nothing and is named; with --partly the sound ones are added', async () => {
  const file = sheet('WT-601,1000 kg,0.2', 'WT-101,heavy,0.1')
  const columns = ['--column', 'maximumLoad=Most']
  const whole = await importPoints(file, ...columns)
  expect(whole.code).toBe(1)
  expect(whole.err).toMatch(/nothing was added/)
  expect(whole.err).toMatch(/row 3, Most: /)
  expect(tags()).toEqual(before)
  const partly = await importPoints(file, ...columns, '--partly')
  expect(partly.code).toBe(3)
  expect(tags()).toEqual([...before, 'WT-601'])
})

it('makes many points like one, and refuses a channel that is taken', async () => {
  const like = ['--like', 'WT-101', '--tags', 'WT-7##', '--count', '2']
  expect((await importPoints(...like, '--on', 'ind-1')).code).toBe(1)
  expect(tags()).toEqual(before)
  expect((await importPoints(...like, '--first', '9')).code).toBe(0)
  expect(tags()).toEqual([...before, 'WT-709', 'WT-710'])
})

it('says what is missing in the command line or cannot be read', async () => {
  expect((await importPoints()).code).toBe(2)
  expect((await importPoints('--column', 'weight=Most')).err).toContain('fields: tag, name')
  const gone = await importPoints(join(folder, 'gone.csv'))
  expect([gone.code, gone.err]).toEqual([1, `${join(folder, 'gone.csv')}: There is no such file or folder.\n`])
})
