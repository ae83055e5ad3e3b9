/** Bytes as people read them: `11 03 00 6b`. Long runs are cut at `most` bytes and say so. */
export function hex(bytes: Uint8Array, most = 64): string {
  const shown = Array.from(bytes.subarray(0, most), (b) => b.toString(16).padStart(2, '0')).join(' ')
  return bytes.length > most ? `${shown} … ${bytes.length} bytes` : shown
}
