// What a bundle holds: the names that its files may have, and how much there may be.

export type Entry = { name: string; bytes: Uint8Array }

export const sumsName = 'SHA256SUMS'
export const howToName = 'HOW-TO-CHECK.txt'

/** Plain names alone, so that no file leaves the folder that a bundle is unpacked into, and each can be typed after a command. */
const names =
  /^(SHA256SUMS|HOW-TO-CHECK\.txt|[A-Za-z0-9_][A-Za-z0-9_-]*\.(run|json|pdf|pem)|drivers\/[A-Za-z0-9_][A-Za-z0-9_-]*\.mjs)$/
const mostNameChars = 200

export const isEntryName = (name: string): boolean => name.length <= mostNameChars && names.test(name)

/** Bytes in all, unpacked: some days of recording, and what a small machine holds (shop rule). */
export const mostBytes = 400_000_000
/** Files in all (shop rule). */
export const mostEntries = 4000

export const megabytes = (bytes: number): string => `${Math.ceil(bytes / 1e6)} MB`
