// Bytes sent under one serial setting into those that a receiver of another setting makes of them, bit by bit.
import type { SerialSettings } from '../../src/driver.ts'

/** The bits of a frame on the line, idle high: start, data (low bit first), parity, stop. */
function frameBits(byte: number, { dataBits, parity, stopBits }: SerialSettings): number[] {
  const data = Array.from({ length: dataBits }, (_, i) => (byte >> i) & 1)
  const ones = data.filter((bit) => bit === 1).length
  const check = parity === 'none' ? [] : [(ones + (parity === 'odd' ? 1 : 0)) % 2]
  return [0, ...data, ...check, ...Array.from({ length: stopBits }, () => 1)]
}

/** What arrives; a frame whose parity or stop bit is wrong arrives as a byte 0, as systems hand it out. */
export function heardThrough(text: string, from: SerialSettings, to: SerialSettings): string {
  const line = [1, 1, ...Array.from(text, (char) => frameBits(char.charCodeAt(0), from)).flat(), ...Array(24).fill(1)]
  // Times in bits of the sender.
  const ratio = from.baudRate / to.baudRate
  const at = (time: number) => line[Math.floor(time)] ?? 1
  const length = 1 + to.dataBits + (to.parity === 'none' ? 0 : 1) + 1
  let heard = ''
  for (let time = 0; time < line.length; ) {
    if (at(time) === 1) {
      time += Math.min(1, ratio) / 16
      continue
    }
    const bits = Array.from({ length }, (_, i) => at(time + (i + 0.5) * ratio))
    const data = bits.slice(1, 1 + to.dataBits)
    const byte = data.reduce((sum, bit, i) => sum + (bit << i), 0)
    const ones = bits.slice(1, -1).filter((bit) => bit === 1).length
    const isWhole = bits.at(-1) === 1 && (to.parity === 'none' || ones % 2 === (to.parity === 'odd' ? 1 : 0))
    heard += String.fromCharCode(isWhole ? byte : 0)
    time += (length - 0.5) * ratio
    while (at(time) === 0 && time < line.length) time += Math.min(1, ratio) / 16
  }
  return heard
}
