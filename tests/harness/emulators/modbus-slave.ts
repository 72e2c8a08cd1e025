// Registers into a slave of another make (modbus-serial) at the far end of a serial line.
import { ServerSerial } from 'modbus-serial'
import { createVirtualSerial, type VirtualSerial } from '../virtual-serial.ts'
import type { Emulator } from './emulator.ts'

/** What a register holds; undefined: there is none of that address. */
type Registers = (address: number) => number | undefined

/** The slave of address 7 on `line`, through a second pseudo-terminal; `echo`: its lead hands back what is sent. Gives what ends it. */
export async function startModbusSlave(
  line: VirtualSerial,
  { holding, input, echo = false }: { holding: Registers; input: Registers; echo?: boolean },
): Promise<() => Promise<void>> {
  const far = createVirtualSerial(`${line.path}-slave`)
  far.plug()
  line.onReceived = (bytes) => {
    if (echo) line.write(bytes)
    far.write(bytes)
  }
  far.onReceived = line.write
  const cell = (registers: Registers) => (address: number) => {
    const value = registers(address)
    if (value !== undefined) return value
    throw Object.assign(new Error('no such register'), { modbusErrorCode: 2 })
  }
  const slave = new ServerSerial(
    { getHoldingRegister: cell(holding), getInputRegister: cell(input) },
    { path: far.path, baudRate: 115_200, unitID: 7 },
  )
  slave.on('error', () => {})
  await new Promise<void>((done) => slave.on('initialized', () => done()))
  return async () => {
    await new Promise<void>((done) => slave.close(() => done()))
    far.unplug()
  }
}

/** Hundredths of a pascal, signed, in holding register 4. */
export const pressureRegister: Emulator = (line, shows) => {
  const holding = (address: number) => (address === 4 ? Math.round(-100 * shows().suctionPa) & 0xffff : undefined)
  return startModbusSlave(line, { holding, input: () => undefined })
}
