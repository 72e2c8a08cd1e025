// What the operator or the flow of the test said in between: the names of the marks, and one mark as a run keeps it.

export const markNames = [
  'zero',
  'first-stroke',
  'precondition',
  'cycles',
  'hold',
  'leak-hold',
  'caution',
  'discard-cycle',
  'note',
] as const
export type MarkName = (typeof markNames)[number]

export type Mark = { tUs: number; mark: MarkName; text: string | null }
