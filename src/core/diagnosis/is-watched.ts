// A moment into whether its pressure was read.
import { criteria } from '../criteria.table.ts'
import type { Track } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'

/** Whether the manometer was heard near `tUs`: while it is silent nobody knows that the switch is vented. */
export function isWatched(track: Track, tUs: number): boolean {
  const i = indexAt(track, tUs)
  return track.slice(Math.max(0, i - 1), i + 1).some((s) => Math.abs(s.tUs - tUs) < criteria.stuckWatchedUs)
}
