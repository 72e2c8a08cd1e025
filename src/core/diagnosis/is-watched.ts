// A moment into whether its pressure was read.
import { criteria } from '../criteria.table.ts'
import type { Track } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'

/** Whether the manometer was heard near `tUs`: while it is silent nobody knows that the switch is vented. */
export function isWatched(track: Track, tUs: number): boolean {
  const i = indexAt(track, tUs)
  const isNear = (row: number) => Math.abs(track.of.tUs[row]! - tUs) < criteria.stuckWatchedUs
  return (i > 0 && isNear(i - 1)) || (i < track.length && isNear(i))
}
