// The text of an option into a number within a range; anything else is refused with the range.
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
