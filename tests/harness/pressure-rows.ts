// Pressures as a test writes them down into the columns that the core reads.
import { columnsOf } from '../../src/core/model/columns.ts'

type Shown = { tUs: number; halfUs?: number }

/** Pressures with the zero still in them. */
export const rawRows = (samples: readonly (Shown & { rawPa: number })[]) =>
  columnsOf(
    ['tUs', 'rawPa', 'halfUs'],
    samples.map((sample) => ({ halfUs: 0, ...sample })),
  )

/** Pressures with the zero subtracted. */
export const trackRows = (samples: readonly (Shown & { pressurePa: number })[]) =>
  columnsOf(
    ['tUs', 'pressurePa', 'halfUs'],
    samples.map((sample) => ({ halfUs: 0, ...sample })),
  )
