// A test file into whether it follows real time, and how soon it has to begin.

/** Folders and files of tests that wait for instruments and screens, the longest first. */
const waiting = [
  'end-to-end/guided',
  'end-to-end/served',
  'cli/run',
  'end-to-end/',
  'acquisition/',
  'cli/',
  'terminal/screen.test',
]

/** Place in that list; the number of its entries where the file only computes. */
export function rankOf(path: string): number {
  const at = waiting.findIndex((name) => path.includes(`/tests/${name}`))
  return at < 0 ? waiting.length : at
}

export const followsRealTime = (path: string): boolean => rankOf(path) < waiting.length
