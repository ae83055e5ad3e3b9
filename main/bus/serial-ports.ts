import { SerialPort } from 'serialport'
import { fail, ok, type Result } from '../../app/result.ts'

/** What the system says of one serial port; what it does not say is absent. */
export type SerialPortInfo = {
  path: string
  manufacturer?: string
  serialNumber?: string
  vendorId?: string
  productId?: string
  pnpId?: string
  locationId?: string
}

const told = ['manufacturer', 'serialNumber', 'vendorId', 'productId', 'pnpId', 'locationId'] as const

/** The serial ports that the system knows of. None is opened. */
export async function listSerialPorts(): Promise<Result<SerialPortInfo[], string>> {
  try {
    const ports = await SerialPort.list()
    return ok(
      ports.map((port) => ({
        path: port.path,
        ...Object.fromEntries(told.flatMap((name) => (port[name] === undefined ? [] : [[name, port[name]]]))),
      })),
    )
  } catch (cause) {
    return fail(cause instanceof Error ? cause.message : String(cause))
  }
}

/** Maker and numbers of a port on one line; empty where the system says nothing. */
export const sayPort = (p: SerialPortInfo): string =>
  [p.manufacturer, p.vendorId && `USB ${p.vendorId}:${p.productId ?? '?'}`, p.serialNumber && `serial ${p.serialNumber}`, p.pnpId]
    .filter(Boolean)
    .join(', ')
