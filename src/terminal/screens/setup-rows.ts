// The fields that a form has into its rows: one for each, one for an object of fields alone, and what the layout puts together.
import type { Field as FormField, FormRow } from './form-spec.ts'
import { endsIn, isLeaf, type Layout, parentOf, type SetupField } from './setup-fields.ts'

const widths = { number: 8, alone: 24, beside: 12 } as const

/** Row of the name that a new set-up file gets; `run --part NAME` finds it again. */
export const nameRow = (kind: 'part' | 'rig'): FormRow => ({
  label: 'name of the file',
  fields: [
    {
      ...{ name: 'file', label: '', kind: 'text', width: widths.alone },
      help: `Letters, digits, _ and -: \`run --${kind} NAME\` finds it again.`,
    },
  ],
})

/** The rows of `shown`; what is within an object is set in below its heading. */
export function setupRows(shown: readonly SetupField[], layout: Layout): FormRow[] {
  const children = Map.groupBy(shown, ({ path }) => parentOf(path))
  const rowsIn = (parent: string, heading: string, depth: number): FormRow[] => {
    const own = children.get(parent) ?? []
    const rows: FormRow[] = []
    let left = own
    while (left.length > 0) {
      const [field] = left as [SetupField]
      const isFirst = rows.length === 0
      const inset = depth + (heading === '' || isFirst ? 0 : 1)
      // A list is seen by its entries.
      if (!isLeaf(field)) rows.push(...rowsIn(field.path, field.kind === 'list' ? '' : field.label, inset))
      const row = isLeaf(field) ? rowWith(field, own, layout) : [field]
      if (isLeaf(field)) rows.push(ofEntry(parent, rowOf(row, isFirst ? heading : '', inset)))
      left = left.filter((other) => !row.includes(other))
    }
    return rows
  }
  return rowsIn('', '', 0)
}

/** The fields of one object that share a row with `field`. */
function rowWith(field: SetupField, own: readonly SetupField[], { together = [], apart = [] }: Layout): SetupField[] {
  const parent = parentOf(field.path)
  if (parent !== '' && own.every(isLeaf) && !apart.some((end) => endsIn(parent, end))) return [...own]
  const isIn = (ends: readonly string[], path: string) => ends.some((end) => endsIn(path, end))
  return own.filter(
    (other) => other === field || together.some((ends) => isIn(ends, field.path) && isIn(ends, other.path)),
  )
}

/** The row with which entry of which list it is, where the object of its fields is one. */
function ofEntry(parent: string, row: FormRow): FormRow {
  const [, list, index] = /^(.+)\.(\d+)$/.exec(parent) ?? []
  if (list === undefined) return row
  const fields = row.fields.map((field) => ({ ...field, help: `${field.help} Ctrl-D removes this row.` }))
  return { ...row, fields, entry: { list, index: Number(index) } }
}

/** A row under its heading, else under the label of its first field. */
function rowOf(fields: readonly SetupField[], heading: string, depth: number): FormRow {
  const label = heading || fields[0]?.label || ''
  return {
    label: `${'  '.repeat(depth)}${label}`,
    fields: fields.map((field, i) => ({
      ...formField(field, fields.length === 1),
      label: field.isUnit || (i === 0 && heading === '') ? '' : field.label,
    })),
  }
}

function formField(field: SetupField, alone: boolean): FormField {
  const { path, kind, unit, choices, optional, more, width } = field
  const help = [field.help, more, emptyMeans(field), suchAs(field)].filter(Boolean).join(' ')
  const base = { name: path, label: '', help, ...(unit === null ? {} : { unit }) }
  if (kind === 'choice') return { ...base, kind, values: [...(optional ? [''] : []), ...choices.map(String)] }
  if (kind === 'number') return { ...base, kind, width: width ?? widths.number }
  return { ...base, kind: 'text', width: width ?? (alone ? widths.alone : widths.beside) }
}

const emptyMeans = ({ default: value, unit }: SetupField) =>
  value === undefined ? '' : `Empty: ${value === '' ? 'nothing' : value}${unit === null ? '' : ` ${unit}`}.`

const suchAs = ({ kind, example, shareOf }: SetupField) =>
  kind === 'choice' || example === undefined || example === null || shareOf !== null ? '' : `Such as ${example}.`
