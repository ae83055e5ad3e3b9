import { promisify } from 'node:util'
import { crc32, inflateRaw } from 'node:zlib'
import { fail, ok, type Result } from '../../app/result.ts'

/** `at`: where its local header begins. */
export type ZipEntry = { name: string; bytes: number; packed: number; crc: number; method: number; at: number }

const endMark = 0x06054b50
const entryMark = 0x02014b50
const entryHead = 46

/**
 * The directory of a zip archive, read before anything is unpacked.
 * Source: PKWARE APPNOTE 6.3.10, 4.3.12 (central directory header) and 4.3.16 (end record). Archives in several parts and zip64 are refused.
 */
export function zipEntries(archive: Uint8Array): Result<ZipEntry[], string> {
  const view = new DataView(archive.buffer, archive.byteOffset, archive.byteLength)
  let end = archive.length - 22
  while (end >= 0 && view.getUint32(end, true) !== endMark) end--
  if (end < 0) return fail('It is not a whole zip archive.')
  const count = view.getUint16(end + 10, true)
  if (count !== view.getUint16(end + 8, true)) return fail('It is one part of several.')
  const entries: ZipEntry[] = []
  let at = view.getUint32(end + 16, true)
  for (let n = 0; n < count; n++) {
    if (at + entryHead > end || view.getUint32(at, true) !== entryMark) return fail('Its directory is damaged.')
    const nameLength = view.getUint16(at + 28, true)
    entries.push({
      method: view.getUint16(at + 10, true),
      crc: view.getUint32(at + 16, true),
      packed: view.getUint32(at + 20, true),
      bytes: view.getUint32(at + 24, true),
      at: view.getUint32(at + 42, true),
      name: new TextDecoder().decode(archive.subarray(at + entryHead, at + entryHead + nameLength)),
    })
    at += entryHead + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true)
  }
  return ok(entries)
}

const inflate = promisify(inflateRaw)
const [localMark, localHead, stored, deflated] = [0x04034b50, 30, 0, 8]

/**
 * What was packed, or null where it is no longer that. Never more than the directory says; other work goes on meanwhile.
 * Source: PKWARE APPNOTE 6.3.10, 4.3.7 (local file header) and 4.4.5 (compression method).
 */
export async function unpackEntry(archive: Uint8Array, entry: ZipEntry): Promise<Uint8Array | null> {
  const view = new DataView(archive.buffer, archive.byteOffset, archive.byteLength)
  if (entry.at + localHead > archive.length || view.getUint32(entry.at, true) !== localMark) return null
  const begin = entry.at + localHead + view.getUint16(entry.at + 26, true) + view.getUint16(entry.at + 28, true)
  const packed = archive.subarray(begin, begin + entry.packed)
  const content = entry.method === stored ? packed : entry.method === deflated ? await inflated(packed, entry.bytes) : null
  return content?.length === entry.bytes && crc32(content) === entry.crc ? content : null
}

const inflated = (packed: Uint8Array, bytes: number) => inflate(packed, { maxOutputLength: Math.max(bytes, 1) }).catch(() => null)
