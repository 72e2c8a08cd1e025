// What came from a port, and when, into how good it was: lines, those that gave no reading, wild ones, gaps, clumps.
import type { PortState } from '../intake/receive.ts'
import { Columns } from '../model/columns.ts'
import type { PortQuality } from '../model/result.ts'
import type { PortName } from '../model/rig.ts'
import type { Placing } from './instrument-times.ts'
import { medianIntervalS } from './pressure-track.ts'
import { gapUs } from './silence.ts'

/** The quality of one port; `clumped` are the lines in its clumps. */
export type Quality = PortQuality & { clumped: number }

/** How the lines of an instrument were placed; `implausible`: its readings that stood out alone among neighbours that agree. */
type Heard = { placing: Placing; implausible: number }

/** The quality of each port; a board is judged as a manometer. */
export function qualitiesOf(
  ports: readonly PortState[],
  heard: { meter: Heard; manometer: Heard; 'manometer-2': Heard | null },
): Partial<Record<PortName, Quality>> {
  return Object.fromEntries(
    ports.map((port) => {
      const { placing, implausible } = (port.name === 'bridge' ? null : heard[port.name]) ?? heard.manometer
      return [port.name, qualityOf(port, placing, implausible)]
    }),
  )
}

function qualityOf(port: PortState, { tUs, clumps, clumped }: Placing, implausible: number): Quality {
  const { unreadable = 0, overlong = 0 } = port.faultCounts
  const limitUs = gapUs(medianIntervalS(new Columns({ tUs }, tUs.length)))
  let gaps = 0
  for (let i = 1; i < tUs.length; i++) if (tUs[i]! - tUs[i - 1]! > limitUs) gaps++
  return { lines: port.lines, unreadable: unreadable + overlong, implausible, gaps, clumps, clumped }
}
