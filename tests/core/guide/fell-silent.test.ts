// Instruments that switch themselves off: told from pulled cables and from a machine that slept, and said while they are silent.
import { expect, test } from 'vitest'
import { absentPorts, absentText } from '../../../src/core/guide/absent-ports.ts'
import { fellSilent } from '../../../src/core/guide/fell-silent.ts'
import { foldEvents } from '../../harness/fold-events.ts'
import { sampleStart } from '../../harness/sample-start.ts'

type Event = { type: string; t: number; [key: string]: unknown }
const us = (s: number) => Math.round(s * 1e6)

/** Both instruments each half second until `endS`; the manometer not from `offS` to `onS`. */
function story(
  offS: number,
  onS: number,
  endS: number,
  more: Event[] = [],
  leftOutS = [0, 0],
): ReturnType<typeof foldEvents> {
  const events: Event[] = [...more]
  for (let s = 0; s <= endS; s += 0.5) {
    if (s > leftOutS[0]! && s < leftOutS[1]!) continue
    events.push({ type: 'tick', t: us(s) })
    if (s <= offS || s >= onS) events.push({ type: 'rx', t: us(s), port: 'manometer', text: '-0.010 inH2O\r\n' })
    events.push({ type: 'rx', t: us(s), port: 'meter', text: '9.9E37\n' })
  }
  return foldEvents([{ ...sampleStart, type: 'start', t: 0, format: 1 }, ...events.toSorted((a, b) => a.t - b.t)])
}
const lost = (s: number, why: string): Event => ({ type: 'link', t: us(s), port: 'manometer', state: 'lost', why })

test('one that falls silent after ten minutes is told, while it is and once it is back', () => {
  const silent = story(600, Number.POSITIVE_INFINITY, 615)
  expect(fellSilent(silent)).toEqual([{ name: 'manometer', afterS: expect.closeTo(599.5, 0) }])
  expect(absentText(absentPorts(silent), silent, 'the cycles')).toMatch(
    /^The manometer is silent, the meter is there\. .* The manometer was on for 10 min: if it saves power, switch that off\. Then go on with the cycles\.$/,
  )
  expect(fellSilent(story(600, 640, 700))).toHaveLength(1)
  // Its port is opened once more after some seconds of silence: that is no pulled cable.
  expect(fellSilent(story(600, 640, 700, [lost(605.5, 'silent')]))).toHaveLength(1)
})

test.each([
  ['too soon for that', story(200, 240, 300)],
  ['for a moment only', story(600, 606, 700)],
  ['with its cable', story(600, 640, 700, [lost(600.4, 'pulled')])],
  ['with the machine', story(600, 640, 700, [], [600, 640])],
])('one that falls silent %s is not', (_, run) => {
  expect(fellSilent(run)).toEqual([])
})
