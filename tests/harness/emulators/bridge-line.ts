// What a bench shows into the lines of a board that is manometer and contact in one.
// Written from "The line of a board" in DEVELOPERS.md.
import { talks } from './emulator.ts'

/** CRC-16 of Modbus: polynomial A001 reflected, begun at FFFF. */
function crc16(text: string): string {
  let crc = 0xffff
  for (const byte of Buffer.from(text, 'latin1')) {
    crc ^= byte
    for (let bit = 0; bit < 8; bit++) crc = crc % 2 === 1 ? (crc >> 1) ^ 0xa001 : crc >> 1
  }
  return crc.toString(16).toUpperCase().padStart(4, '0')
}

/** Its clock begins a few seconds before it goes round. */
const bootUs = 2 ** 32 - 5e6

export const boardLines = talks(10, ({ suctionPa, closed, timeUs }) => {
  const body = `MB1,${Math.round(bootUs + timeUs) % 2 ** 32},${(-suctionPa).toFixed(2)},${closed ? 1 : 0},x`
  return `${body}*${crc16(body)}\r\n`
})
