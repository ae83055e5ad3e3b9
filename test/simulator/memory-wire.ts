import type { Wire } from '../../simulator/wire/wire.ts'
import { bytes, hex } from './bytes.ts'

/** A wire inside the test: what is put on it reaches the simulator, what the simulator says is kept in `said`. */
export const memoryWire = () => {
  let listener: (data: Uint8Array) => void = () => {}
  const said: string[] = []
  const wire: Wire = {
    onBytes: (given) => {
      listener = given
    },
    write: (data) => said.push(hex(data)),
    onClose: () => {},
    close: async () => {},
  }
  return { wire, said, put: (text: string) => listener(bytes(text)) }
}
