import { existsSync, mkdtempSync, readFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { beforeEach, expect, it } from 'vitest'
import type { EntrySheetView } from '../../../app/contract/entry-sheet-calls.ts'
import { createJob } from '../../../main/files/job-store.ts'
import { fitting, spanwright } from '../../builders/command-line.ts'
import { panelJob } from '../../builders/panel-job.ts'

let folder: string
const job = () => ['--job', join(folder, 'site.job.json')]
const entrySheet = (...args: string[]) => spanwright('entry-sheet', ...job(), ...args)

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'spanwright-entry-'))
  const whole = panelJob()
  const made = createJob(join(folder, 'site.job.json'), { ...whole, points: whole.points.filter((p) => p.tag !== 'FT-501') })
  if (!made.ok) throw new Error(made.failure.why)
})

it('without tags gives the points that are set at the front panel, for people and for programs', async () => {
  const { code, out } = await entrySheet()
  expect(code).toBe(0)
  expect(out).toMatch(/^WT-401 {2}Silo <west>\n/)
  expect(out).toMatch(/4 {2}2\.1 {2}Lower pair, signal +0\.200 {2}mV\/V\n/)
  expect(out).toContain('Note what stands there before you change it.')
  expect(out).not.toContain('WT-101')
  const { sheets } = fitting<{ sheets: EntrySheetView[] }>('entry-sheet', (await entrySheet('--json')).out)
  expect(sheets.map((s) => s.lines[5]?.type)).toEqual(['2.200'])
})

it('writes a document with a page for each point, names escaped', async () => {
  const html = join(folder, 'sheets.html')
  const { code } = await entrySheet('WT-101', 'WT-401', '--html', html)
  expect(code).toBe(0)
  const text = readFileSync(html, 'utf8')
  expect(text.match(/<article class="sheet">/g)).toHaveLength(2)
  expect(text).toContain('Silo &lt;west&gt;')
  expect(text).toContain('<td class="type">2.200</td>')
  expect(text).toContain('@page { size: A4')
})

it('says which points there are, and where it cannot write', async () => {
  const unknown = await entrySheet('WT-9')
  expect([unknown.code, unknown.err]).toEqual([2, 'The job has no point "WT-9". There are WT-101, WT-401.\n'])
  const nowhere = join(folder, 'no', 'such', 'folder.html')
  const unwritten = await entrySheet('--html', nowhere, '--json')
  expect(unwritten.code).toBe(1)
  expect(fitting<{ where: string }>('failure', unwritten.out).where).toBe(nowhere)
  expect(existsSync(nowhere)).toBe(false)
})
