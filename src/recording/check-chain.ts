// Recordings, each with what it names and what it may be named by, into what of their chain is there and what is missing.
import type { Digests } from './read.ts'

/** One recording: how it is called, when it began (ISO 8601), what it names as the one before, and its own digests. */
export type Chained = { name: string; at: string; previous: string | null; digests: Digests }

const keyOf = ({ digests }: Chained): string | null => digests.seal?.signed?.key ?? null

/** Recordings that follow each other without a gap, first to last. */
export type Stretch = {
  names: string[]
  /** The key that signed the first of them that is signed; null where none is. */
  key: string | null
  /** What comes before the first of them: nothing, one that is not here, or one that another follows too. */
  before: { kind: 'nothing' } | { kind: 'missing'; digest: string } | { kind: 'fork'; from: string }
}

export type ChainCheck = {
  /** In the order in which they began. */
  stretches: Stretch[]
  /** Recordings that began while the one before was still made. */
  overlaps: { name: string; before: string }[]
}

/** Copies of one recording count once. A clock that was set back between two of them changes nothing. */
export function checkChain(recordings: readonly Chained[]): ChainCheck {
  const byTime = [...recordings].sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0))
  const named = new Map<string, Chained>()
  for (const recording of byTime) {
    const { first, whole, seal } = recording.digests
    for (const digest of [first, whole, seal?.digest ?? null])
      if (digest !== null && !named.has(digest)) named.set(digest, recording)
  }
  const ones = [...new Set(byTime.map((recording) => named.get(recording.digests.whole) ?? recording))]
  const parentOf = ({ previous }: Chained) => (previous === null ? null : (named.get(previous) ?? null))
  const followers = Map.groupBy(ones, parentOf)
  const stretches: Stretch[] = []

  /** From `recording` on as far as one follows the other; where more than one does, the first is taken. */
  function stretch(recording: Chained, before: Stretch['before']): void {
    const begun: Stretch = { names: [], key: null, before }
    stretches.push(begun)
    for (let now: Chained | undefined = recording; now; ) {
      begun.names.push(now.name)
      begun.key ??= keyOf(now)
      const [next, ...others]: Chained[] = followers.get(now) ?? []
      for (const other of others) stretch(other, { kind: 'fork', from: now.name })
      now = next
    }
  }
  for (const root of followers.get(null) ?? [])
    stretch(root, root.previous === null ? { kind: 'nothing' } : { kind: 'missing', digest: root.previous })
  const overlaps = ones.flatMap((recording) => {
    const before = parentOf(recording)
    const open = before !== null && recording.previous === before.digests.first
    return open ? [{ name: recording.name, before: before.name }] : []
  })
  return { stretches, overlaps }
}
