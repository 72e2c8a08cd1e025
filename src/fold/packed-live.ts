// What a screen shows into a message of at most 64 kB, and back: the trace, most of it, travels as three columns.
import type { Live, TracePoint } from '../core/view/live.ts'

export type PackedLive = Omit<Live, 'trace'> & {
  trace: { tS: Float64Array; pressurePa: Float64Array; actuated: Int8Array }
}

/** `live` for another thread. */
export function packLive(live: Live): PackedLive {
  const { trace } = live
  return {
    ...live,
    trace: {
      tS: Float64Array.from(trace, ({ tS }) => tS),
      pressurePa: Float64Array.from(trace, ({ pressurePa }) => pressurePa),
      actuated: Int8Array.from(trace, ({ actuated }) => (actuated === null ? -1 : Number(actuated))),
    },
  }
}

/** The view that was packed, each number as it was. */
export function unpackLive(packed: PackedLive): Live {
  const { tS, pressurePa, actuated } = packed.trace
  const trace = Array.from(tS, (t, i): TracePoint => {
    const state = actuated[i]!
    return { tS: t, pressurePa: pressurePa[i]!, actuated: state < 0 ? null : state === 1 }
  })
  return { ...packed, trace }
}
