// A moment into whether its pressure was read.
import { criteria } from '../criteria.table.ts'
import type { TrackSample } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'

/** Whether the manometer was heard near `tUs`: while it is silent nobody knows that the switch is vented. */
export function isWatched(track: readonly TrackSample[], tUs: number): boolean {
  const i = indexAt(track, tUs)
  return [track[i - 1], track[i]].some((s) => s !== undefined && Math.abs(s.tUs - tUs) < criteria.stuckWatchedUs)
}
