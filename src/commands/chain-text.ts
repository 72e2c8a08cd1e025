// Recordings of a bench into sentences on their chain: from which to which it is unbroken, and what is missing.
import { basename } from 'node:path'
import type { Run } from '../core/intake/run.ts'
import { shortFingerprint } from '../core/text/fingerprint-text.ts'
import { type ChainCheck, type Chained, checkChain, type Stretch } from '../recording/check-chain.ts'
import type { Digests } from '../recording/read.ts'
import { cleanText } from '../terminal/text/text.ts'
import type { Closing, FileTold } from './tell-files.ts'

const broken = 2

/** The place of a recording in a chain; null for one that neither names another nor is signed. */
export function chainedOf(file: string, { setup }: Run, digests: Digests): Chained | null {
  const previous = setup?.start.previous ?? null
  if (setup === null || (previous === null && !digests.seal?.signed)) return null
  return { name: file, at: setup.start.at, previous, digests }
}

/** What is told of all files together; status 2 where one is missing between others, or two follow the same. */
export function closeChain(told: readonly FileTold[]): Closing {
  const chained = told.flatMap(({ chained }) => chained ?? [])
  const check = checkChain(chained)
  // Of one recording no chain can be told.
  if (check.stretches.reduce((count, { names }) => count + names.length, 0) < 2) return { status: 0, lines: [] }
  const gaps = check.stretches.map((stretch, i) => gapText(stretch, check.stretches.slice(0, i)))
  const lines = check.stretches.flatMap((stretch, i) => [...(gaps[i] ? [gaps[i]] : []), stretchText(stretch)])
  return { status: gaps.some((gap) => gap !== null) ? broken : 0, lines: [...lines, ...noteTexts(check)] }
}

const nameOf = (file: string) => cleanText(basename(file))

function stretchText({ names, before }: Stretch): string {
  const [first = '', last = ''] = [names[0], names.at(-1)].map((name) => nameOf(name ?? ''))
  const what =
    names.length === 1
      ? `Chain: ${first} alone`
      : `Chain: unbroken from ${first} to ${last}, ${names.length} recordings`
  return `${what}${before.kind === 'nothing' ? ', and none came before' : ''}.`
}

/** What is wrong before a stretch. That nothing earlier is there at all may be meant: it is told among the notes. */
function gapText({ names, key, before }: Stretch, earlier: readonly Stretch[]): string | null {
  const first = nameOf(names[0] ?? '')
  const ofSameKey = earlier.findLast((stretch) => stretch.key === key)
  if (before.kind === 'fork')
    return `Fork: ${first} follows ${nameOf(before.from)}, and so does another; two programs wrote with one key.`
  if (!ofSameKey) return null
  if (before.kind === 'nothing')
    return `Gap: ${first} begins the chain of its key a second time; what lies before it cannot be told.`
  return `Gap: before ${first} a recording is missing, that with the SHA-256 ${shortFingerprint(before.digest)}… of its last line.`
}

function noteTexts({ stretches, overlaps }: ChainCheck): string[] {
  const open = stretches.find(({ before }) => before.kind === 'missing')
  const last = stretches.at(-1)?.names.at(-1) ?? ''
  return [
    ...overlaps.map(({ name, before }) => `${nameOf(name)} began while ${nameOf(before)} was still made.`),
    ...(open && open === stretches[0] ? [`What came before ${nameOf(open.names[0] ?? '')} is not among these.`] : []),
    `Whether one after ${nameOf(last)} is missing shows only against the ledger or the numbers on paper.`,
  ]
}
