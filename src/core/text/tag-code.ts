// What tells a part into the text of the code on its tag, and a scanned text back: capitals, digits and spaces, which every scanner types alike.
//
//     [STANDING ][NUMBER ][SERIAL ]DIGEST
//
// `STANDING` is there on every tag but that of a pass, `NUMBER` where one was allotted, `SERIAL` as far as it goes into such
// signs, `DIGEST` the first sixteen digits of the recording's SHA-256. A scanner is a keyboard: other signs come out as others
// where its keyboard and that of the computer are not the same.

export type TagCode = {
  /** What forbids to take the part for passed, such as `SIMULATED`; null: it passed. */
  standing: string | null
  /** As `3F9C 2027 0042`. */
  number: string | null
  /** Capitals, digits and spaces; null where nothing is left of it. */
  serial: string | null
  /** The first sixteen hexadecimal digits of the recording's SHA-256, small letters. */
  digest: string
}

/** What a code may begin with. */
export const codeStandings = [
  'SIMULATED',
  'REJECT',
  'UNDECIDED',
  'VOID',
  'NOT ASSESSED',
  'DAMAGED RECORDING',
  'TORN RECORDING',
  'BROKEN SEAL',
  'NOT SEALED',
] as const
export type CodeStanding = (typeof codeStandings)[number]

export const codeDigestChars = 16
/** So that the code stays small; number and digest tell the part all the same. */
const mostSerialChars = 20

/** `sha256`: that of the recording, hex. */
export function tagCodeText({
  standing,
  number,
  serial,
  sha256,
}: {
  standing: CodeStanding | null
  number: string | null
  serial: string | null
  sha256: string
}): string {
  const digest = sha256.slice(0, codeDigestChars).toUpperCase()
  return [standing, plainCapitals(number ?? ''), codeSerial(serial), digest].filter((piece) => piece).join(' ')
}

/** A serial number as the code has it; null where nothing is left of it. */
export const codeSerial = (serial: string | null): string | null =>
  plainCapitals(serial ?? '')
    .slice(0, mostSerialChars)
    .trim() || null

const plainCapitals = (text: string) =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toUpperCase()
    .replace(/[^A-Z0-9]+/g, ' ')
    .trim()

const form = new RegExp(
  `^(?:(${codeStandings.join('|')}) )?(?:([0-9A-F]{4} \\d{4} \\d{4,9}) )?(?:([A-Z0-9 ]+) )?([0-9A-F]{${codeDigestChars}})$`,
)

/** What was scanned, or typed in small letters; null for a text that is none of a tag. */
export function parseTagCode(text: string): TagCode | null {
  const found = form.exec(text.trim().toUpperCase().replace(/\s+/g, ' '))
  if (found === null) return null
  const [, standing = null, number = null, serial = null, digest = ''] = found
  return { standing, number, serial, digest: digest.toLowerCase() }
}
