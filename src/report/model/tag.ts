// What a tag says, without any look: every writer of tags takes this.

export type Tag = {
  /** The largest word on it: PASS, REJECT, or what keeps it from being either. */
  word: string
  /** White on black, which no pass is. */
  warns: boolean
  /** Beside the word: what not to do with the part, else whose tag it is; null where that is not known. */
  beside: string | null
  date: string
  /** Why not, in at most five words; null for a pass. */
  reason: string | null
  model: string
  serial: string
  /** Make and break with U; empty where they prove nothing. */
  values: readonly string[]
  /** What the values are in. */
  unit: string | null
  /** The last line: its number. `again`: that it warns once more, so that no cut takes that away. */
  last: string
  again: boolean
  /** The text of its code. */
  code: string
  /** What the file is called by, and when the test began (ISO 8601): a file dates itself by it. */
  title: string
  at: string
}
