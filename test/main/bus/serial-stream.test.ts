import { chmodSync, mkdtempSync, realpathSync, rmSync, symlinkSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, describe, expect, it } from 'vitest'
import type { ByteStream } from '../../../main/bus/byte-stream.ts'
import { serialStream } from '../../../main/bus/serial-stream.ts'
import { openAdapter } from '../../../simulator/wire/adapter.ts'
import type { Wire } from '../../../simulator/wire/wire.ts'
import { unprivilegedUntil } from '../../builders/unprivileged.ts'

const format = { baud: 19_200, parity: 'none', stopBits: 1 } as const
let wire: Wire | undefined
const open: { close(): Promise<void> }[] = []
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close()
})

function adapter() {
  const opened = openAdapter((next) => {
    wire = next
  })
  open.push(opened)
  return opened
}

async function openStream(path: string): Promise<ByteStream> {
  const opened = await serialStream(path, format)()
  if (!opened.ok) throw new Error(opened.failure)
  open.push(opened.value)
  return opened.value
}

/** The first `count` bytes that come. */
const gather = (on: (listener: (bytes: Uint8Array) => void) => void, count: number): Promise<number[]> =>
  new Promise((resolve) => {
    const bytes: number[] = []
    on((more) => {
      bytes.push(...more)
      if (bytes.length >= count) resolve(bytes)
    })
  })

// Every value a byte has: on a line that is not raw some of them would be changed or swallowed.
const everyByte = Array.from({ length: 256 }, (_, i) => i)

describe('a serial port', () => {
  it('carries the longest frame and every value of a byte, both ways', async () => {
    const stream = await openStream(adapter().path)
    const there = gather((listener) => wire?.onBytes(listener), 256)
    const back = gather((listener) => stream.onBytes(listener), 256)
    stream.write(Uint8Array.from(everyByte))
    wire?.write(Uint8Array.from(everyByte))
    expect(await there).toEqual(everyByte)
    expect(await back).toEqual(everyByte)
  })

  it('says once that it is gone when its adapter is pulled out', async () => {
    const { path, pull } = adapter()
    const stream = await openStream(path)
    stream.onBytes(() => {})
    const told: string[] = []
    const gone = new Promise<void>((resolve) =>
      stream.onClose((why) => {
        told.push(why)
        resolve()
      }),
    )
    await pull()
    await gone
    stream.write(Uint8Array.of(1))
    await stream.close()
    expect(told).toEqual([expect.stringMatching(/line is gone\. Was the adapter pulled out\?/)])
  })

  it('is lost when its path vanishes, even where nothing is sent and reading raises nothing', async () => {
    const there = adapter()
    const path = join(mkdtempSync(join(tmpdir(), 'port-')), 'line')
    symlinkSync(there.path, path)
    const stream = await openStream(path)
    stream.onBytes(() => {})
    const lost = new Promise<string>((resolve) => stream.onClose(resolve))
    rmSync(path)
    expect(await lost).toContain('is gone')
  })

  it('that is not there, taken, or not ours is refused with what to do', async () => {
    const stuck = async (at: string) => {
      const result = await serialStream(at, format)()
      if (result.ok) await result.value.close()
      return result.ok ? 'opened' : result.failure
    }
    expect(await stuck('/dev/no-such-port')).toContain('There is no port /dev/no-such-port. Is the adapter plugged in?')
    const { path } = adapter()
    await openStream(path)
    expect(await stuck(path)).toContain('is in use by another program')
    const device = realpathSync(path)
    chmodSync(device, 0o000)
    await unprivilegedUntil(async () => {
      expect(await stuck(device)).toContain('may not be opened by this user')
    })
  })

  it('says nothing when it is closed on request', async () => {
    const stream = await openStream(adapter().path)
    stream.onBytes(() => {})
    const told: string[] = []
    stream.onClose((why) => told.push(why))
    await stream.close()
    expect(told).toEqual([])
  })
})
