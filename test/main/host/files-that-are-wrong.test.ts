import { chmodSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Job } from '../../../app/job/schema.ts'
import type { Host } from '../../../main/host/host.ts'
import { openHost } from '../../../main/open-host.ts'
import { panelJob } from '../../builders/panel-job.ts'
import { value } from '../../builders/practice-host.ts'
import { unprivileged } from '../../builders/unprivileged.ts'

let folder: string
let host: Host | null
const path = () => join(folder, 'mill.job.json')
const profileText = readFileSync(new URL('../../../app/profiles/two-pairs-float32-locked.profile.json', import.meta.url), 'utf8')

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'spanwright-wrong-'))
  host = null
})
afterEach(() => host?.close())

const open = () => openHost({ jobPath: path(), shell: 'command line', address: 'test', listenMs: 0 })
async function opened(job: Job = panelJob()): Promise<Host> {
  writeFileSync(path(), JSON.stringify(job))
  host = value(await open()).host
  return host
}

describe('a job file', () => {
  const text = JSON.stringify(panelJob())
  const changed = (change: (job: Job) => object) => JSON.stringify({ ...panelJob(), ...change(panelJob()) })

  it.each([
    ['that breaks off', text.slice(0, text.length / 2), /not whole JSON.*An earlier version may stand in/, /mill\.job\.json$/],
    ['that is empty', '', /not whole JSON/, /mill\.job\.json$/],
    [
      'of a newer program',
      changed(() => ({ schema: 2 })),
      /schema 2; this program knows 1\. Open it with a newer Spanwright/,
      /mill\.job\.json$/,
    ],
    [
      'with a load that is no number',
      changed(({ points: [p, ...rest] }) => ({ points: [{ ...p, maximumLoad: 'NaN' }, ...rest] })),
      /a decimal number with a point/,
      /points\.0\.maximumLoad$/,
    ],
    ['with a field that is not of a job', changed(() => ({ colour: 'red' })), /colour/, /mill\.job\.json/],
    [
      'with two points on one channel',
      changed(({ points }) => ({ points: points.map((p) => ({ ...p, indicatorId: 'ind-1' })) })),
      /^WT-101: WT-401 already measures channel 1.*Correct the file, or open an earlier version/,
      /points\.0\.channel$/,
    ],
    [
      'with a tag used twice',
      changed(({ points }) => ({ points: points.map((p) => ({ ...p, tag: 'WT-1' })) })),
      /WT-1 is already used/,
      /points\.0\.tag$/,
    ],
    [
      'with an id used twice',
      changed(({ points }) => ({ points: points.map((p) => ({ ...p, id: 'wt-1' })) })),
      /id wt-1 is used twice/,
      /points\.1\.id$/,
    ],
    [
      'with a point on an indicator that is not there',
      changed(({ points: [p, ...rest] }) => ({ points: [{ ...p, indicatorId: 'ind-9' }, ...rest] })),
      /no indicator ind-9/,
      /points\.0\.indicatorId$/,
    ],
    ['with an indicator on a bus that is not there', changed(() => ({ buses: [] })), /no bus bus-1/, /indicators\.0\.busId$/],
    [
      'with two indicators at one address',
      changed(({ indicators }) => ({ indicators: indicators.map((i) => ({ ...i, unit: 1 })) })),
      /^Transmitter: Panel meter has address 1/,
      /indicators\.0\.unit$/,
    ],
  ])('%s is not opened: what is wrong, where, and what to do', async (_what, content, why, where) => {
    writeFileSync(path(), content)
    expect(await open()).toEqual({
      ok: false,
      failure: { kind: 'job-file', why: expect.stringMatching(why), where: expect.stringMatching(where) },
    })
    expect(readFileSync(path(), 'utf8')).toBe(content)
    // It leaves no lock behind: put right, it opens.
    await opened()
  })

  it('of a profile that nobody knows opens, and says so where the indicator is asked', async () => {
    const job = panelJob()
    await opened({ ...job, indicators: job.indicators.map((i) => ({ ...i, profileId: 'of-somebody-else' })) })
    expect(await host?.call('entry-sheet.read', { pointIds: ['wt-101'] })).toMatchObject({
      ok: false,
      failure: { why: expect.stringContaining('no indicator with a known profile') },
    })
  })

  it('that this user may not read, or that is a folder, is said to be so', async () => {
    writeFileSync(path(), text)
    chmodSync(path(), 0o000)
    expect(await unprivileged(() => open())).toMatchObject({
      ok: false,
      failure: { why: expect.stringContaining('may not read the file') },
    })
    chmodSync(path(), 0o600)
    const asFolder = await openHost({ jobPath: folder, shell: 'command line', address: 'test' })
    expect(asFolder).toMatchObject({ ok: false, failure: { why: 'This is a folder; a file is needed.', where: folder } })
  })

  it('in a folder that cannot be written to is not opened, since nothing could be kept', async () => {
    writeFileSync(path(), text)
    chmodSync(folder, 0o555)
    const [result] = [unprivileged(() => open())]
    const refused = await result
    chmodSync(folder, 0o755)
    expect(refused).toMatchObject({ ok: false, failure: { why: expect.stringContaining('cannot be written to; choose another place') } })
  })
})

describe('a profile', () => {
  const bring = (text: string) => host!.call('profile.import', { text, replace: false })
  const profile = () => JSON.parse(profileText) as { id: string; registers: Record<string, unknown>[]; requests: object }

  it.each([
    ['that breaks off', () => profileText.slice(0, profileText.length / 2), '(file)', /not whole JSON: it stops making sense in line \d+/],
    ['of a newer program', () => JSON.stringify({ ...profile(), schema: 2 }), 'schema', /Use a newer Spanwright/],
    [
      'with a register wider than its words',
      () =>
        JSON.stringify({ ...profile(), id: 'mine', registers: profile().registers.map((r, i) => (i === 0 ? { ...r, order: 'ABCD' } : r)) }),
      'registers.0.order',
      /say AB or BA/,
    ],
    [
      'with an address beyond the wire',
      () =>
        JSON.stringify({
          ...profile(),
          id: 'mine',
          registers: profile().registers.map((r, i) => (i === 0 ? { ...r, address: 70_000 } : r)),
        }),
      'registers.0.address',
      /65535/,
    ],
    [
      'with NaN for a limit',
      () =>
        JSON.stringify({
          ...profile(),
          id: 'mine',
          registers: profile().registers.map((r) => (r.limits ? { ...r, limits: { from: 'NaN', to: '1' } } : r)),
        }),
      expect.stringMatching(/^registers\.\d+\.limits\.from$/),
      /decimal number/,
    ],
  ])('%s is not taken: the path of what is wrong and what would be right', async (_what, text, where, message) => {
    await opened()
    const answer = await bring(text())
    expect(answer).toMatchObject({
      ok: false,
      failure: { kind: 'unfit', problems: expect.arrayContaining([{ path: where, message: expect.stringMatching(message) }]) },
    })
    expect(host?.topics.get('job')?.profiles).toEqual([])
    expect(readdirSync(join(folder, 'mill.job'))).not.toContain('profiles')
  })
})

describe('a sheet of points', () => {
  it.each([
    ['that breaks off in a quoted cell', 'Tag,Max load,Interval\nWT-1,"500 kg,0.1', '', /quotation mark is left open.*row 2/],
    ['that breaks off in a row', 'Tag;Max load;Interval\nWT-1;500 kg', 'Interval', /missing/],
    ['with NaN', 'Tag;Max load;Interval\nWT-1;NaN;0.1', 'Max load', /not begin with a number/],
    ['that is a picture', '\u0089PNG\r\n\u001a\n\u0000\u0000', '', /Save the sheet as CSV first/],
    ['that is empty', '', '', /sheet is empty/],
  ])('%s adds nothing: row, column and what would be right', async (_what, sheet, column, why) => {
    await opened()
    const before = host!.topics.get('job')
    const reply = value(
      await host!.call('points.import', { revision: before?.revision ?? 0, from: { sheet }, dryRun: false, partly: true }),
    )
    expect(reply).toMatchObject({ added: false, points: [] })
    expect(reply.errors[0]).toMatchObject({ column, why: expect.stringMatching(why) })
    expect(host!.topics.get('job')).toBe(before)
  })
})
