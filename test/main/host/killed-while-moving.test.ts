import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { Job } from '../../../app/job/schema.ts'
import { killedWhileMoving } from '../../builders/killed-mover.ts'
import type { LineHost } from '../../builders/line-host.ts'
import { value } from '../../builders/practice-host.ts'

const indicatorId = 'ind-1'

/** The next day's host, after the one before was killed at this step. */
async function killedAt(step: string, nth: number): Promise<LineHost> {
  const line = await killedWhileMoving(step, nth)
  await line.reopen()
  return line
}

const job = (line: LineHost) => JSON.parse(readFileSync(line.jobPath, 'utf8')) as Job
const openWrite = (line: LineHost) => line.host.topics.get('indicator', indicatorId)?.openWrite
const resolve = (line: LineHost, how: 'restore' | 'complete') =>
  line.host.call('journal.resolve', { indicatorId, journalId: openWrite(line)?.journalId ?? '', how })

async function expectAt(line: LineHost, unit: number) {
  expect(job(line).indicators).toMatchObject([{ id: indicatorId, unit }])
  expect(openWrite(line)).toBeNull()
  line.bench.powerCycle('a')
  expect(line.bench.saved('a')['bus.address']).toEqual([unit])
  expect(value(await line.host.call('indicator.identify', { indicatorId }))).toMatchObject({ outcome: 'confirmed' })
}

const moments = [
  ['before the new address was sent', 'writing', 1],
  ['before it was saved', 'saving', 1],
  ['before the restart', 'following', 1],
  ['while the unit restarts', 'following', 2],
  ['when it was found at its new address', 'reading-all', 1],
] as const
const ways = [
  ['restore', 3],
  ['complete', 7],
] as const

describe.concurrent('a host killed while it gave an indicator another address', { timeout: 120_000 }, () => {
  it.for(moments.flatMap(([when, step, nth]) => ways.map(([how, unit]) => ({ when, step, nth, how, unit }))))(
    '$when says what is open, and can $how it',
    async ({ step, nth, how, unit }) => {
      const line = await killedAt(step, nth)
      try {
        expect(openWrite(line)?.wanted).toMatchObject([{ key: 'bus.address', held: '3', intended: '7' }])
        expect(await resolve(line, how)).toMatchObject({ ok: true })
        await expectAt(line, unit)
      } finally {
        await line.close()
      }
    },
  )

  it('says that the unit answers at neither address where it is off, leaves the write open, and ends it once the unit is on', async () => {
    const line = await killedAt('following', 2)
    try {
      line.bench.power('a', false)
      const first = await resolve(line, 'restore')
      expect(first).toMatchObject({
        ok: false,
        failure: {
          kind: 'failed',
          end: 'nothing-written',
          whereabouts: {
            old: { unit: 3 },
            new: { unit: 7 },
            answers: 'at-neither',
            advice: expect.stringMatching(
              /answers neither at its new address 7 .* nor at its old address 3 .*switch it off and on.*both places/,
            ),
          },
          parameters: [{ key: 'bus.address', wanted: '7', before: '3', now: 'unknown' }],
        },
      })
      expect(job(line).indicators[0]?.unit).toBe(3)
      expect(openWrite(line)).toMatchObject({ wanted: [{ intended: '7' }] })
      line.bench.power('a', true)
      expect(await resolve(line, 'restore')).toMatchObject({ ok: true })
      await expectAt(line, 3)
    } finally {
      await line.close()
    }
  })
})
