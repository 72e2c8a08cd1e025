// Meter lines that arrive two at a time, the second one longer: nothing crashes, and each edge keeps its order.
import { expect, test } from 'vitest'
import { analyse } from '../../src/core/analyse.ts'
import { judge } from '../../src/core/judge.ts'
import { timesOf } from '../../src/core/model/columns.ts'
import { foldEvents, sealRun } from '../harness/fold-events.ts'
import { makeForeignRecording, quietBench } from '../harness/foreign-recording.ts'

type Event = { type: string; t?: number; port?: string; text?: string }

/** Each second line of the meter arrives together with the one before it; `pad` makes one of the two long. */
function inPairs(events: readonly Event[], pad: (text: string, place: 'first' | 'second') => string): Event[] {
  const out: Event[] = []
  let waiting: Event | null = null
  for (const event of events) {
    if (event.type !== 'rx' || event.port !== 'meter') out.push(event)
    else if (waiting === null) waiting = event
    else {
      out.push({ ...waiting, t: event.t!, text: pad(waiting.text!, 'first') })
      out.push({ ...event, text: pad(event.text!, 'second') })
      waiting = null
    }
  }
  return out
}

test.each(['first', 'second'] as const)('pairs whose %s line is the longer one', (long) => {
  const { events } = makeForeignRecording(quietBench)
  const slow = events.map((e) => {
    const event = structuredClone(e) as Event & { rig?: { meter?: { port?: object } } }
    if (event.rig?.meter) event.rig.meter.port = { ...event.rig.meter.port, baudRate: 9600 }
    return event
  })
  const pairs = inPairs(slow, (text, place) => (place === long ? text.replace(/^([+-]?)/, '$1000000000000') : text))
  const run = sealRun(foldEvents(pairs))
  const analysis = analyse(run, run.setup!)
  for (const { loUs, hiUs } of analysis.edges) expect(loUs).toBeLessThanOrEqual(hiUs)
  for (const [i, tUs] of timesOf(analysis.contact).entries())
    expect(tUs).toBeGreaterThanOrEqual(analysis.contact.of.tUs[i - 1] ?? 0)
  const result = judge(analysis)
  for (const { valuePa, UPa } of [result.make, result.break]) expect([valuePa, UPa]).not.toContain(Number.NaN)
})
