// Fields and what is wrong with them into what a form says: each field by the words that stand on the screen, the first wrong one found.
import type { FormRow, Mistake } from './form-spec.ts'

/** Whether the mistake is one of the field `name`. */
export const concerns = (mistake: Mistake, name: string) =>
  mistake.field === name || name.startsWith(`${mistake.field}.`)

/** Names the field at a path, or the row of a path that several fields begin with, as it stands on the screen; else gives the path. */
export function fieldNames(rows: readonly FormRow[]): (path: string) => string {
  return (path) => {
    const row = rows.find(({ fields }) => fields.some(({ name }) => name === path || name.startsWith(`${path}.`)))
    const field = row?.fields.find(({ name }) => name === path)
    const words = [row?.group ?? '', row?.label.trim() ?? '', field?.label ?? ''].filter(Boolean)
    return words.length === 0 ? path : words.join(' ')
  }
}

/** The first mistake that stands in the way, in the order of the fields, with its field (null where none of them has it); null where all may go on. */
export function firstWrong(
  rows: readonly FormRow[],
  mistakes: readonly Mistake[],
): { mistake: Mistake; at: string | null } | null {
  const grave = mistakes.filter(({ doubt }) => !doubt)
  for (const { name } of rows.flatMap(({ fields }) => fields)) {
    const mistake = grave.find((each) => concerns(each, name))
    if (mistake) return { mistake, at: name }
  }
  return grave[0] ? { mistake: grave[0], at: null } : null
}
