// The text of an option into a number within a range or into a day; anything else is refused with what it must be.
import { InvalidArgumentError } from 'commander'

/** Parser of an option that takes a number; anything else is refused with the range. */
export function numberFrom(min: number, max: number, unit: string): (text: string) => number {
  return (text) => {
    const value = Number(text)
    if (text.trim() !== '' && value >= min && value <= max) return value
    throw new InvalidArgumentError(`It must be a number from ${min} to ${max}${unit && ` ${unit}`}.`)
  }
}

/** The same for whole numbers. */
export function wholeFrom(min: number, max: number): (text: string) => number {
  return (text) => {
    const value = Number(text)
    if (/^\d+$/.test(text.trim()) && value >= min && value <= max) return value
    throw new InvalidArgumentError(`It must be a whole number from ${min} to ${max}.`)
  }
}

/** Parser of an option that takes a day of the calendar, `YYYY-MM-DD`. */
export function dayFrom(text: string): string {
  const moment = new Date(`${text}T00:00Z`)
  // A day that no month has, such as 2027-02-30, is none or becomes another.
  const isDay = !Number.isNaN(moment.getTime()) && moment.toISOString().startsWith(`${text}T`)
  if (isDay && /^\d{4}-/.test(text)) return text
  throw new InvalidArgumentError('It must be a day, year first, such as 2027-03-14.')
}
