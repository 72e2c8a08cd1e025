// What a report says, in order and without any look: headings, facts, tables, sentences and drawings. Every writer takes this.
import type { Picture } from '../decode-png.ts'

/** A name and what is known of it; null prints as "not recorded". */
export type Fact = { label: string; value: string | null }

export type Block =
  | { kind: 'facts'; facts: readonly Fact[] }
  /** The first cell of each row names it. */
  | { kind: 'table'; head: readonly string[]; rows: readonly (readonly string[])[] }
  | { kind: 'sentences'; sentences: readonly string[] }
  /** A whole SVG; `says` tells those who do not see it what it shows. */
  | { kind: 'drawing'; svg: string; says: string }

/** `lead`: what a customer looks for first; the rest is what that rests on. */
export type Section = { heading: string; blocks: readonly Block[]; lead?: true }

/** A logo as it is printed, and the bytes of its PNG file. */
export type Logo = { picture: Picture; png: Buffer }

export type Report = {
  title: string
  /** Whose report it is, as far as that is stated. */
  shop: { name: string | null; address: string | null; logo: Logo | null }
  /** What the report is about, in one line. */
  subject: string
  /** Written across every page of what must never be taken for a pass; null for a pass and a fail that are whole. */
  stamp: string | null
  verdict: { word: string; sentences: readonly string[] } | null
  sections: readonly Section[]
  /** At the foot of every page: what tells this paper from another. */
  foot: string
  /** When the test began, ISO 8601: a file dates itself by it, so that the same recording gives the same bytes. */
  at: string
}

export const notRecorded = 'not recorded'

/** The last line, so that a page that is missing shows. */
export const endOfReport = 'End of the report'
