// A stroke into whether it holds a leak, with the hose clamped: such a hold may go without the switch.

import { toArray } from '../model/series.ts'
import type { Cycle } from '../strokes/cycles.ts'
import type { Case } from './rule.ts'

/** Whether a hold of the clamp ladder lies in the stroke. */
export const isClamped = ({ run }: Case, { span }: Cycle): boolean =>
  toArray(run.marks).some(({ mark, tUs }) => mark === 'leak-hold' && tUs > span.startUs && tUs < span.endUs)
