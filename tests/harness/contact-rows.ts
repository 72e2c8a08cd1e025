// Contact readings as a test writes them into columns, as the core takes them.
import { columnsOf } from '../../src/core/model/columns.ts'
import { type Contact, type ContactState, stateCode } from '../../src/core/model/samples.ts'

export type ContactReading = { tUs: number; state: ContactState; ohm?: number; digitOhm?: number; halfUs?: number }

export function contactRows(readings: readonly ContactReading[]): Contact {
  return columnsOf(
    ['tUs', 'halfUs', 'ohm', 'digitOhm', 'state'],
    readings.map(({ tUs, state, ohm = 0, digitOhm = Number.NaN, halfUs = 0 }) => ({
      ...{ tUs, halfUs, ohm, digitOhm, state: stateCode(state) },
    })),
  )
}
