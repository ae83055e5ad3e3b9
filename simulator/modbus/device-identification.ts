import type { Refused } from './bank.ts'

const longestPdu = 253
/** Function, MEI type, code, conformity, more follows, next object, number of objects. */
const headLength = 7

const lastObjectOf: Readonly<Record<number, number>> = { 1: 0x02, 2: 0x7f, 3: 0xff }

/**
 * Body of the answer to 43/14, after the function code. As many objects as fit one PDU; the rest is announced by
 * "more follows" and the next object. An unknown object restarts a stream at object 0 and is exception 02 when asked singly.
 * Source: MODBUS Application Protocol V1.1b3, 6.21.
 */
export const identificationAnswer = (
  identification: { conformity: number; objects: ReadonlyMap<number, string> },
  pdu: Uint8Array,
): readonly number[] | Refused => {
  const [, mei, code = 0, asked = 0] = pdu
  if (mei !== 0x0e) return { refused: 1 }
  if (pdu.length !== 4 || code < 1 || code > 4) return { refused: 3 }
  const { conformity, objects } = identification
  const head = (more: boolean, next: number, count: number) => [0x0e, code, conformity, more ? 0xff : 0, next, count]
  const encode = (id: number) => {
    const text = [...new TextEncoder().encode(objects.get(id) ?? '')]
    return [id, text.length, ...text]
  }
  if (code === 4) return objects.has(asked) ? [...head(false, 0, 1), ...encode(asked)] : { refused: 2 }

  const ids = [...objects.keys()].filter((id) => id <= (lastObjectOf[code] ?? 0)).sort((a, b) => a - b)
  const start = ids.includes(asked) ? ids.indexOf(asked) : 0
  const sent: number[][] = []
  let length = headLength
  for (const id of ids.slice(start)) {
    const object = encode(id)
    if (length + object.length > longestPdu) break
    sent.push(object)
    length += object.length
  }
  const next = ids[start + sent.length]
  return [...head(next !== undefined, next ?? 0, sent.length), ...sent.flat()]
}
