// Two ways to hold a number against a printed one.
import { expect } from 'vitest'

/** `actual` differs from `expected` by no more than `off`. */
export function expectNear(actual: number | null | undefined, expected: number, off: number): void {
  expect(
    Math.abs(Number(actual ?? Number.NaN) - expected),
    `${actual} against ${expected} ± ${off}`,
  ).toBeLessThanOrEqual(off)
}

/** `actual` differs from `expected` by no more than a share `off` of it. */
export function expectRelative(actual: number | null | undefined, expected: number, off: number): void {
  expectNear(actual, expected, off * Math.abs(expected))
}

/** `actual` agrees with a certified value to `digits` digits (log relative error). */
export function expectDigits(actual: number | null | undefined, certified: number, digits: number): void {
  expectRelative(actual, certified, 10 ** -digits)
}
