// The room that this thread takes for new objects into one that no longer grows: left alone, the engine takes 128 MB where 16 are enough.
import { getHeapSpaceStatistics, setFlagsFromString } from 'node:v8'

let isHeld = false

/** Threads that are to come begin with `roomMB`, for while this one is held they do not grow. */
export function beginWithYoungSpace(roomMB: number): void {
  // Of two halves each.
  setFlagsFromString(`--min-semi-space-size=${roomMB / 2}`)
}

/**
 * Holds it once it has `roomMB`, and lets it grow again where the engine gave some back. Called again and again, for the
 * engine grows it by its own count. A thread that is to come has a limit of its own; this one, that runs already, has only
 * the step by which it grows, which is the same for the whole process.
 */
export function holdYoungSpace(roomMB: number): void {
  const young = getHeapSpaceStatistics().find(({ space_name }) => space_name === 'new_space')
  hold(young !== undefined && young.space_size >= roomMB * 1e6)
}

/** Lets it grow as the engine likes. */
export function freeYoungSpace(): void {
  hold(false)
}

function hold(holds: boolean): void {
  if (holds === isHeld) return
  isHeld = holds
  setFlagsFromString(`--semi-space-growth-factor=${holds ? 1 : 2}`)
}
