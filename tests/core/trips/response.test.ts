import { describe, expect, test } from 'vitest'
import { responsesOf } from '../../../src/core/trips/response.ts'

const anyDisplay = { dampingS: Number.POSITIVE_INFINITY, easedS: Number.POSITIVE_INFINITY, coarse: false }

describe('The shapes that a kick may have', () => {
  test('hold one that fades away within a second, one that stays, and one that a display averages', () => {
    const shapes = responsesOf(anyDisplay)
    expect(shapes.some((r) => r.shown(1) < 0.1 && r.shown(0.1) > 0.3)).toBe(true)
    expect(shapes.some((r) => r.lasting && r.shown(1) > 0.99)).toBe(true)
    expect(shapes.some((r) => r.averages)).toBe(true)
  })

  test('are no slower than the display can be by its vents', () => {
    const quick = responsesOf({ dampingS: 0.2, easedS: 0.4, coarse: false })
    expect(Math.max(...quick.map((r) => r.delayS))).toBeLessThanOrEqual(0.3)
    expect(Math.max(...responsesOf(anyDisplay).map((r) => r.delayS))).toBeGreaterThan(0.9)
  })

  test('do not fade where a coarse digit shows too little of them', () => {
    expect(responsesOf({ ...anyDisplay, coarse: true }).every((r) => r.lasting)).toBe(true)
  })
})
