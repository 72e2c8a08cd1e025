// The fields of a form and what is wrong with them into the first that is wrong.
import type { FormRow, Mistake } from './form-spec.ts'

/** Whether the mistake is one of the field `name`. */
export const concerns = (mistake: Mistake, name: string) =>
  mistake.field === name || name.startsWith(`${mistake.field}.`)

/** The first mistake that is in the way, in the order of the fields, with its field (null where none of them has it); null where all may go on. */
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
