// What a watched worker was given, and the beat by which it shows that it still answers.
import { workerData } from 'node:worker_threads'

/** What the one who started a worker hands to it. `beats` grows with each beat. */
export type WatchedData = { beats: Int32Array; data: unknown }

const everyMs = 250

/**
 * Begins to beat, and keeps the worker there until it is stopped. `beat` shows it in the midst of long work, where no
 * timer runs: call it after each piece.
 */
export function startHeartbeat(): { data: unknown; beat: () => void } {
  const { beats, data } = workerData as WatchedData
  const beat = () => void Atomics.add(beats, 0, 1)
  beat()
  setInterval(beat, everyMs)
  return { data, beat }
}
