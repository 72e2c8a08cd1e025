// The file that a path leads to, against the one that is meant: the same by device and inode, or why it is not.
import { statSync } from 'node:fs'

export type FileIdentity = { dev: bigint; ino: bigint }

/** Why `path` does not lead to the file `own`, as the end of a sentence; null where it does, or where the system cannot tell. */
export function whyStrayed(path: string, own: FileIdentity): string | null {
  try {
    return sameFile(statSync(path, { bigint: true }), own) ? null : 'was replaced by another file during the test'
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    return code === 'ENOENT' || code === 'ENOTDIR' ? 'was moved or deleted during the test' : null
  }
}

/**
 * Whether two files are one. Where one has no inode number (0, as on some file systems of Windows) that cannot be told and
 * they count as one. On Windows the device is left out: older systems give another number by path than by descriptor.
 */
export function sameFile(a: FileIdentity, b: FileIdentity, windows = process.platform === 'win32'): boolean {
  return a.ino === 0n || b.ino === 0n || (a.ino === b.ino && (windows || a.dev === b.dev))
}
