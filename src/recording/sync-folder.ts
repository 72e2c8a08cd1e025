// The folder of a new file, synced, so that the name itself survives a power cut.
import { closeSync, fsyncSync, openSync } from 'node:fs'

/** Where folders cannot be synced (Windows) the file alone must do. */
export function syncFolder(path: string): void {
  try {
    const fd = openSync(path, 'r')
    try {
      fsyncSync(fd)
    } finally {
      closeSync(fd)
    }
  } catch {
    // Nothing is lost by it: the file itself is written.
  }
}
