// The signature of a recording and the keys that are known into what is told of it.
import type { StartEvent } from '../core/model/event.ts'
import { shortFingerprint } from '../core/text/fingerprint-text.ts'
import { Problem } from '../errors.ts'
import type { Digests } from '../recording/read.ts'
import { isSignedBy } from '../recording/seal-signature.ts'
import type { KnownKey } from '../signing/bench-key.ts'
import { readKeyText } from '../signing/key-file.ts'
import { cleanText } from '../terminal/text/text.ts'

/** `given`: the one that recordings must be signed by, where one was named. */
export type Keys = { given: KnownKey | null; known: readonly KnownKey[] }

/**
 * Who signed a recording. `holds`: true where the key is known and the signature fits; false where it does not, or is not
 * that of the key that was given; null where nothing can be said, for want of a signature or of the key.
 */
export type SignatureTold = { holds: boolean | null; text: string; key: string | null }

/** The public key in the text of the file at `path`. Throws a Problem where it holds none. */
export function publicKeyIn(text: string, path: string): KnownKey {
  const found = readKeyText(text)
  if (found === null)
    throw new Problem('key-invalid', `The file ${path} holds no public key of a bench (Ed25519, PEM).`)
  return { ...found, own: false, file: path }
}

/** What is told of a recording whose seal is intact, by its first line, its digests and the keys at hand. */
export function signatureOf(start: StartEvent | null, { seal }: Digests, { given, known }: Keys): SignatureTold {
  const signed = seal?.signed ?? null
  const notGiven = (why: string, key: string | null) => ({ holds: false, text: `not signed by this key: ${why}`, key })
  const simulated = start?.simulated === true
  if (signed === null) {
    const why = simulated
      ? 'simulated, so not signed'
      : start?.previous
        ? 'not signed although its bench signs: its process was ended early, or the signature was taken away'
        : 'not signed'
    return given ? notGiven(why, null) : { holds: null, text: why, key: null }
  }
  const { key, exact } = signed
  const short = shortFingerprint(cleanText(key))
  if (simulated)
    return { holds: false, text: `signed by the key ${short} although it is simulated: no bench does that`, key }
  const match = [...(given ? [given] : []), ...known].find(({ fingerprint }) => fingerprint === key)
  if (given && match !== given) return notGiven(`it names the key ${short}`, key)
  if (!match)
    return { holds: null, text: `signed by the key ${short}, which is not known here: name its file with --key`, key }
  const of = match === given ? 'this key' : match.own ? 'the key of this bench' : `the key in ${cleanText(match.file)}`
  return exact && isSignedBy(match.publicKey, signed)
    ? { holds: true, text: `signed by ${of}, ${short}`, key }
    : { holds: false, text: `not signed by this key, ${short}: the signature does not fit`, key }
}
