// A setup into what a test of the line alone has shown, where that was recorded within the days before this test.
import { criteria } from '../criteria.table.ts'
import type { RigSpec } from '../model/rig.ts'
import type { Setup } from '../model/setup.ts'

/** null where none is stated, and where it is too old or lies in the days to come. */
export function lineRecord({ start, rig: { proved } }: Setup): RigSpec['proved'] {
  if (proved === null) return null
  const days = dayNumber(start.at) - dayNumber(proved.on)
  return days >= 0 && days <= criteria.lineRecordDays ? proved : null
}

/** Days of the Gregorian calendar since a fixed one, of a date `YYYY-MM-DD…`: years are counted from March, so that the leap day is their last. */
function dayNumber(date: string): number {
  const [year, month, day] = date.slice(0, 10).split('-').map(Number) as [number, number, number]
  const monthsSinceMarch = (month + 9) % 12
  // January and February belong to the year before.
  const years = year - Math.floor(monthsSinceMarch / 10)
  const leapDays = Math.floor(years / 4) - Math.floor(years / 100) + Math.floor(years / 400)
  // 153 days in each five months from March on.
  return 365 * years + leapDays + Math.floor((153 * monthsSinceMarch + 2) / 5) + day
}
