// The fingerprint of a key into groups that an eye can compare.

/** All of it in groups of four digits, two lines of eight groups. */
export function fingerprintLines(fingerprint: string): string[] {
  const groups = fingerprint.match(/.{1,4}/g) ?? []
  return [groups.slice(0, 8).join(' '), groups.slice(8).join(' ')]
}

/** Its first sixteen digits: enough to tell keys apart, not to trust one. */
export const shortFingerprint = (fingerprint: string): string =>
  (fingerprint.slice(0, 16).match(/.{1,4}/g) ?? []).join(' ')
