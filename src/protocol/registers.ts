// Bytes of 16-bit registers into the number they hold, in any order of words and bytes.

export const registerTypes = ['int16', 'uint16', 'int32', 'uint32', 'float32'] as const
export type RegisterType = (typeof registerTypes)[number]

/** How four bytes were sent, `a` the high one; of two bytes the second half of the name counts: `dc` is low byte first. */
export const byteOrders = ['abcd', 'cdab', 'badc', 'dcba'] as const
export type ByteOrder = (typeof byteOrders)[number]

export const registersOf = (type: RegisterType) => (type.endsWith('16') ? 1 : 2)

/** The number in `bytes` (latin1 text, of one or two registers), and its bits as a whole number. */
export function registerNumber(bytes: string, type: RegisterType, order: ByteOrder): { value: number; bits: number } {
  const swapped = order === 'badc' || order === 'dcba'
  const high = bytes.length === 2 ? (swapped ? 'ba' : 'ab') : order
  const view = new DataView(new ArrayBuffer(4))
  // Two bytes go into the lower half of the four.
  for (const [at, letter] of [...high].entries())
    view.setUint8('abcd'.indexOf(letter) + 4 - bytes.length, bytes.charCodeAt(at))
  const bits = view.getUint32(0)
  if (type === 'int16') return { value: view.getInt16(2), bits }
  if (type === 'int32') return { value: view.getInt32(0), bits }
  return { value: type === 'float32' ? view.getFloat32(0) : bits, bits }
}
