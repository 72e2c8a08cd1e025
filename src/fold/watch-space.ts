// The room left on the disk of a recording into one sentence of warning, early enough to make more.
import { statfsSync } from 'node:fs'
import { dirname } from 'node:path'

/** What the system says of a file system; for tests another. */
export type FreeBytes = (folder: string) => number | null

// Shop rules: 50 MB, or what an hour of this recording takes where that is more.
const leastBytes = 50e6
const hourS = 3600
/** A recording has to go on for this long before its pace says anything. */
const pacedFromS = 10
const lookEveryMs = 5000

/** The warning for the disk that holds `file`, null while there is room enough or where the system does not say. */
export function createSpaceWatch(
  file: string,
  freeBytes: FreeBytes = freeOn,
  nowMs = () => performance.now(),
): (recordedBytes: number | null, elapsedS: number) => string | null {
  let lookedMs = Number.NEGATIVE_INFINITY
  let said: { text: string; bytes: number } | null = null
  return (recordedBytes, elapsedS) => {
    if (nowMs() - lookedMs < lookEveryMs) return said?.text ?? null
    lookedMs = nowMs()
    const free = freeBytes(dirname(file))
    const bytesPerS = elapsedS < pacedFromS ? 0 : (recordedBytes ?? 0) / elapsedS
    if (free === null || free >= Math.max(leastBytes, bytesPerS * hourS)) said = null
    // A sentence that changed with each byte would be told each time: only half as much is news.
    else if (said === null || free < said.bytes / 2) said = { text: warningText(free, bytesPerS), bytes: free }
    return said?.text ?? null
  }
}

function warningText(free: number, bytesPerS: number): string {
  const room = free >= 1e6 ? `${Math.floor(free / 1e6)} MB` : `${Math.floor(free / 1e3)} kB`
  const minutes = Math.floor(free / bytesPerS / 60)
  const lasts = minutes < 600 ? `, enough for about ${minutes} min` : ''
  return `Only ${room} are free on the disk of the recording${lasts}: make room, a full disk ends the test.`
}

function freeOn(folder: string): number | null {
  try {
    const { bavail, bsize } = statfsSync(folder)
    return bavail * bsize
  } catch {
    // A folder that is gone is told by whoever guards the recording.
    return null
  }
}
