// What a form is made of: its rows and fields, what is wrong with them, and where the operator is in it.

/** What is in the fields, by the fields' names; all as text, empty where nothing is stated. */
export type Values = Readonly<Record<string, string>>

export type Field = {
  /** Path of what it states, such as `limits.make.low`: mistakes name it. */
  name: string
  /** Comes before the field within its row; empty for the only one. */
  label: string
  kind: 'text' | 'number' | 'choice'
  /** Of a choice. */
  values?: readonly string[]
  unit?: string
  help: string
  /** Cells that it takes; 16 where left out. */
  width?: number
}
/** `entry`: of which list the row is an entry, and which. */
export type FormRow = { label: string; fields: readonly Field[]; entry?: { list: string; index: number } }

/**
 * A mistake of the field `field` (a name, or the start of some), as a sentence with value, unit and limit. `doubt`: it may
 * be meant, so it is said and is in nobody's way.
 */
export type Mistake = { field: string; text: string; doubt?: true }

export type FormSpec = {
  title: string
  intro?: readonly string[]
  /** The rows there are; they may depend on what was chosen. */
  rows: (values: Values) => readonly FormRow[]
  /** Values that follow from others, after each change. */
  follow?: (values: Values) => Values
  /** What is wrong with the values as they stand. */
  check: (values: Values) => readonly Mistake[]
  /** What finishing the form does; `enter`: Enter finishes from any field, else only from the last. */
  done: { short: string; does: string; enter: boolean }
  back: { short: string; does: string }
  /** Keys of this form alone; `name` comes back as `by`. */
  own?: readonly {
    name: string
    keys: readonly string[]
    shown: string
    short: string
    does: string
    blocked?: (values: Values) => string | null
  }[]
  /** The values without an entry of a list; where there are lists. */
  without?: (values: Values, entry: NonNullable<FormRow['entry']>) => Values
  /** Going back loses nothing worth asking about. */
  light?: boolean
}

export type FormState = {
  values: Values
  /** Name of the field that takes what is typed. */
  at: string
  /** Cursor in its text, as `Editor` has it. */
  cursor: number | null
  /** The values at the beginning: what differs would be lost. */
  before: Values
}
export type FormAsk = { by: string; values: Values }
