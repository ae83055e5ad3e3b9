export type MbapRequest = { transaction: number; unit: number; pdu: Uint8Array }

/** Header and PDU of a Modbus TCP message. Source: MODBUS Messaging on TCP/IP Implementation Guide V1.0b, 3.1.3. */
export const mbapFrame = (transaction: number, unit: number, pdu: Uint8Array): Uint8Array => {
  const length = pdu.length + 1
  return Uint8Array.of(transaction >>> 8, transaction & 0xff, 0, 0, length >>> 8, length & 0xff, unit, ...pdu)
}

/** Cuts a TCP stream into requests. `onBroken` is told once when the stream cannot be Modbus TCP; the connection is then of no use. */
export const mbapReceiver = (options: {
  onRequest: (request: MbapRequest) => void
  onBroken: () => void
}): { take(bytes: Uint8Array): void } => {
  let held = new Uint8Array(0)
  let broken = false
  return {
    take(bytes) {
      if (broken) return
      held = Uint8Array.of(...held, ...bytes)
      while (held.length >= 8) {
        const view = new DataView(held.buffer, held.byteOffset, held.length)
        const length = view.getUint16(4)
        if (view.getUint16(2) !== 0 || length < 2 || length > 254) {
          broken = true
          options.onBroken()
          return
        }
        if (held.length < 6 + length) return
        const request = { transaction: view.getUint16(0), unit: view.getUint8(6), pdu: held.slice(7, 6 + length) }
        held = held.slice(6 + length)
        options.onRequest(request)
      }
    },
  }
}
