// One recorded event into the next state of a run: the order of the stages and nothing else. Live and replay both fold with it.

import { criteria } from '../criteria.table.ts'
import { changedLineEnd, type EndReason, eventBytes, type RecordedEvent, type StartEvent } from '../model/event.ts'
import { addLine, type LineRanges, noLines } from '../model/line-ranges.ts'
import type { Mark } from '../model/marks.ts'
import { ratingOf } from '../model/part.ts'
import type { Decode } from '../model/reading.ts'
import { type Verdict, verdicts } from '../model/result.ts'
import { type PortName, type RigPort, type RigSpec, rigPorts, rigSpecOf } from '../model/rig.ts'
import type { ContactSample, ContactState, Heard, PressureSample } from '../model/samples.ts'
import { append, emptySeries, last, type Series } from '../model/series.ts'
import type { Setup } from '../model/setup.ts'
import { contactState } from './contact-state.ts'
import { correctedPa } from './corrected-pressure.ts'
import { ask, initialPort, type PortState, receive, relink, type TimedReading } from './receive.ts'
import { initialLiveTracker, type LiveTracker, type Stroke, trackLive } from './stroke-tracker.ts'

/** Everything known of a session after some of its events. Older states stay valid: nothing in it is changed in place. */
export type Run = {
  findDecode: (port: PortName, device: RigPort) => Decode
  setup: Setup | null
  /** Time of the last event. */
  tUs: number
  ports: readonly PortState[]
  pressure: Series<PressureSample & Heard>
  contact: Series<ContactSample & Heard>
  marks: Series<Mark>
  /** Moments at which a link was lost or came back. */
  linkBreaks: Series<{ tUs: number; port: PortName }>
  /** Stretches without a tick in which the machine was suspended. */
  sleeps: Series<{ fromUs: number; toUs: number }>
  tickUs: number | null
  tracker: LiveTracker
  /** Strokes finished so far, as the zero of the first rest shows them. */
  strokes: Series<Stroke>
  end: { tUs: number; reason: EndReason } | null
  /** The verdict in the recording; nothing is worked out from it. */
  recorded: Verdict | null
  damage: {
    torn: boolean
    corrupt: LineRanges
    /** Every line so far is whole but for its end. */
    lineEndsOnly: boolean
    seal: 'intact' | 'broken' | 'missing'
  }
}

/** A run before its `start`. `findDecode` gives the bound driver of each port; it may throw a Problem for an unknown one. */
export function initialRun(findDecode: Run['findDecode']): Run {
  return {
    findDecode,
    setup: null,
    tUs: 0,
    ports: [],
    pressure: emptySeries(),
    contact: emptySeries(),
    marks: emptySeries(),
    linkBreaks: emptySeries(),
    sleeps: emptySeries(),
    tickUs: null,
    tracker: initialLiveTracker,
    strokes: emptySeries(),
    end: null,
    recorded: null,
    damage: { torn: false, corrupt: noLines, lineEndsOnly: true, seal: 'missing' },
  }
}

/** The state after `event`. */
export function step(run: Run, event: RecordedEvent): Run {
  switch (event.type) {
    case 'start':
      return begin(run, event)
    case 'corrupt': {
      const { torn, corrupt, lineEndsOnly } = run.damage
      return {
        ...run,
        damage: {
          torn,
          corrupt: addLine(corrupt, event.line),
          lineEndsOnly: lineEndsOnly && event.why === changedLineEnd,
          seal: worse(run),
        },
      }
    }
    case 'torn':
      return { ...run, damage: { ...run.damage, torn: true, seal: worse(run) } }
    case 'seal': {
      const seal = event.matches && run.damage.seal !== 'broken' ? 'intact' : 'broken'
      return { ...run, tUs: event.t, damage: { ...run.damage, lineEndsOnly: false, seal } }
    }
    default: {
      const next = { ...run, tUs: event.t, damage: { ...run.damage, lineEndsOnly: false, seal: worse(run) } }
      if (run.setup === null) return next
      if (event.type === 'rx') return hear(next, run.setup, event.port, event.t, eventBytes(event))
      if (event.type === 'tx')
        return { ...next, ports: run.ports.map((p) => (p.name === event.port ? ask(p, event.t) : p)) }
      if (event.type === 'tick') return tick(next, event.t)
      if (event.type === 'link') return hearLink(next, event.port, event.t, event.state)
      if (event.type === 'mark')
        return { ...next, marks: append(run.marks, [{ tUs: event.t, mark: event.mark, text: event.text ?? null }]) }
      if (event.type === 'end') return { ...next, end: run.end ?? { tUs: event.t, reason: event.reason } }
      if (event.type === 'verdict') return { ...next, recorded: recordedVerdict(event.result) }
      return next
    }
  }
}

function recordedVerdict(result: unknown): Verdict | null {
  const { verdict } = (result ?? {}) as { verdict?: unknown }
  return verdicts.find((known) => known === verdict) ?? null
}

/** An intact seal covers only what stands before it. */
function worse(run: Run): 'broken' | 'missing' {
  return run.damage.seal === 'broken' ? 'broken' : 'missing'
}

function begin(run: Run, start: StartEvent): Run {
  const ports = rigPorts(start.rig).map(({ name, device }) => initialPort(name, device, run.findDecode(name, device)))
  const setup = { start, rating: ratingOf(start.part), rig: rigSpecOf(start.rig) }
  return { ...run, setup, ports, damage: { ...run.damage, lineEndsOnly: false } }
}

function hear(run: Run, setup: Setup, name: PortName, tUs: number, bytes: string): Run {
  const index = run.ports.findIndex((p) => p.name === name)
  const heard = run.ports[index]
  if (!heard || run.end !== null) return run
  const { port, readings } = receive(heard, tUs, bytes)
  const next = { ...run, ports: run.ports.with(index, port) }
  if (readings.length === 0) return next
  const { pressures, contacts } = sortReadings(readings, setup.rig, last(run.contact)?.state ?? 'unknown')
  next.pressure = append(run.pressure, pressures)
  next.contact = append(run.contact, contacts)
  for (const { tUs, rawPa } of pressures) {
    next.tracker = trackLive(next.tracker, tUs, rawPa, setup.rating.ratedPa)
    if (next.tracker.finished) next.strokes = append(next.strokes, [next.tracker.finished])
  }
  return next
}

function sortReadings(readings: readonly TimedReading[], rig: RigSpec, before: ContactState) {
  const pressures: (PressureSample & Heard)[] = []
  const contacts: (ContactSample & Heard)[] = []
  let state = before
  for (const { quantity, value, digit, tUs, line, askedUs, waitingUs } of readings) {
    const heard = { tUs, line, askedUs, waitingUs }
    if (quantity === 'resistance') {
      state = contactState(value, state, rig)
      contacts.push({ ...heard, ohm: value, state, digitOhm: digit })
    } else if (!Number.isNaN(value)) {
      const overRange = !Number.isFinite(value)
      // A manometer that shows suction as a negative number overflows to −∞: with its sign it is suction all the same.
      const displayedPa = value * rig.suctionSign
      // Before the zero is subtracted: the certificate speaks of what is displayed, and its correction at zero goes out again.
      const rawPa = rig.calibration && !overRange ? correctedPa(rig.calibration, displayedPa) : displayedPa
      pressures.push({ ...heard, rawPa, overRange })
    }
  }
  return { pressures, contacts }
}

function tick(run: Run, tUs: number): Run {
  const asleep = run.tickUs !== null && tUs - run.tickUs > criteria.sleepUs
  return { ...run, tickUs: tUs, sleeps: asleep ? append(run.sleeps, [{ fromUs: run.tickUs!, toUs: tUs }]) : run.sleeps }
}

function hearLink(run: Run, name: PortName, tUs: number, state: 'open' | 'lost' | 'back'): Run {
  const ports = run.ports.map((p) => (p.name === name ? relink(p, state) : p))
  const linkBreaks = state === 'open' ? run.linkBreaks : append(run.linkBreaks, [{ tUs, port: name }])
  return { ...run, ports, linkBreaks }
}
