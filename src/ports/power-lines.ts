// The lines DTR and RTS, by which a port powers some leads: both on, and while nothing comes one or the other off in turn.

export type Lines = { dtr: boolean; rts: boolean }

export type PowerLines = {
  /** Bytes came: the lines stay as they are. */
  heard(): void
  stop(): void
}

/** Leads with light in them want both on, or one on and one off: common practice, no source. */
const ways: readonly Lines[] = [
  { dtr: true, rts: true },
  { dtr: true, rts: false },
  { dtr: false, rts: true },
]
/** So that each way has come before a silent port is given up, and a board that begins again with DTR has time to speak (shop rule). */
const usualMs = 3000

/** Begins with both on; `eachMs`: how long a way has to bring anything. */
export function createPowerLines(set: (lines: Lines) => void, eachMs: number = usualMs): PowerLines {
  let turn = 0
  const next = () => set(ways[turn++ % ways.length]!)
  const timer = setInterval(next, eachMs)
  next()
  const stop = () => clearInterval(timer)
  return { heard: stop, stop }
}
