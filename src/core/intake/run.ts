// One recorded event into the next state of a run: the order of the stages and nothing else. Live and replay both fold with it.

import { criteria } from '../criteria.table.ts'
import { noRows, type Row } from '../model/columns.ts'
import { changedLineEnd, type EndReason, eventBytes, type RecordedEvent, type StartEvent } from '../model/event.ts'
import { addLine, type LineRanges, noLines } from '../model/line-ranges.ts'
import type { Mark } from '../model/marks.ts'
import { ratingOf } from '../model/part.ts'
import type { Decode } from '../model/reading.ts'
import { type Verdict, verdicts } from '../model/result.ts'
import { type ManometerSpec, type PortName, type RigPort, type RigSpec, rigSpecOf, wiredPorts } from '../model/rig.ts'
import {
  type ContactRows,
  contactColumns,
  type heardColumns,
  type PressureRows,
  pressureColumns,
  stateCode,
  stateOf,
} from '../model/samples.ts'
import { append, emptySeries, type Series } from '../model/series.ts'
import type { Setup } from '../model/setup.ts'
import type { TypedEvent, TypedReading } from '../model/typed.ts'
import { contactState, statedContact } from './contact-state.ts'
import { correctedPa } from './corrected-pressure.ts'
import { ask, initialPort, type PortState, receive, relink, type TimedReading } from './receive.ts'
import { initialLiveTracker, type LiveTracker, type Stroke, trackLive } from './stroke-tracker.ts'
import { heldContact, keyedContact, typedPressure } from './typed.ts'

/** Everything known of a session after some of its events. Older states stay valid: nothing in it is changed in place. */
export type Run = {
  findDecode: (port: PortName, device: RigPort) => Decode
  setup: Setup | null
  /** Time of the last event. */
  tUs: number
  ports: readonly PortState[]
  pressure: PressureRows
  /** What the second manometer showed at the switch end. */
  atSwitch: PressureRows
  contact: ContactRows
  /** Pressures that were typed. */
  typed: Series<TypedReading>
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
    pressure: noRows(pressureColumns),
    atSwitch: noRows(pressureColumns),
    contact: noRows(contactColumns),
    typed: emptySeries(),
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
          seal: worse(run.damage),
        },
      }
    }
    case 'torn':
      return { ...run, damage: { ...run.damage, torn: true, seal: worse(run.damage) } }
    case 'seal': {
      const seal = event.matches && run.damage.seal !== 'broken' ? 'intact' : 'broken'
      return { ...run, tUs: event.t, damage: { ...run.damage, lineEndsOnly: false, seal } }
    }
    default: {
      // A copy of this step's own: what the event changes is put into it below, and into nothing that was there before.
      const next = { ...run, tUs: event.t, damage: wholeSoFar(run.damage) }
      if (run.setup !== null) takeIn(next, run.setup, event)
      return next
    }
  }
}

type Input = Exclude<RecordedEvent, { type: 'start' | 'corrupt' | 'torn' | 'seal' }>

function takeIn(next: Run, setup: Setup, event: Input): void {
  switch (event.type) {
    case 'rx':
      hear(next, setup, event.port, event.t, eventBytes(event))
      return
    case 'tx':
      change(next, event.port, (port) => ask(port, event.t, eventBytes(event)))
      return
    case 'typed':
      takeTyped(next, setup.rig, event)
      return
    case 'tick':
      tick(next, event.t)
      if (setup.rig.typed.contact && next.end === null) next.contact = heldContact(next.contact, event.t, setup.rig)
      return
    case 'link':
      change(next, event.port, (port) => relink(port, event.state))
      if (event.state !== 'open') next.linkBreaks = append(next.linkBreaks, [{ tUs: event.t, port: event.port }])
      return
    case 'mark':
      next.marks = append(next.marks, [{ tUs: event.t, mark: event.mark, text: event.text ?? null }])
      return
    case 'end':
      next.end ??= { tUs: event.t, reason: event.reason }
      return
    case 'verdict':
      next.recorded = recordedVerdict(event.result)
  }
}

function change(next: Run, name: PortName, by: (port: PortState) => PortState): void {
  const index = next.ports.findIndex((port) => port.name === name)
  if (index >= 0) next.ports = next.ports.with(index, by(next.ports[index]!))
}

/** The damage after one more line that has none. */
function wholeSoFar(damage: Run['damage']): Run['damage'] {
  if (!damage.lineEndsOnly && damage.seal !== 'intact') return damage
  return { ...damage, lineEndsOnly: false, seal: worse(damage) }
}

function recordedVerdict(result: unknown): Verdict | null {
  const { verdict } = (result ?? {}) as { verdict?: unknown }
  return verdicts.find((known) => known === verdict) ?? null
}

/** An intact seal covers only what stands before it. */
function worse({ seal }: Run['damage']): 'broken' | 'missing' {
  return seal === 'broken' ? 'broken' : 'missing'
}

function begin(run: Run, start: StartEvent): Run {
  const ports = wiredPorts(start.rig).map(({ name, device }) => initialPort(name, device, run.findDecode(name, device)))
  const setup = { start, rating: ratingOf(start.part), rig: rigSpecOf(start.rig) }
  return { ...run, setup, ports, damage: { ...run.damage, lineEndsOnly: false } }
}

function hear(next: Run, setup: Setup, name: PortName, tUs: number, bytes: string): void {
  if (next.end !== null) return
  let readings: readonly TimedReading[] = []
  change(next, name, (before) => {
    const { port, readings: heard } = receive(before, tUs, bytes)
    readings = heard
    return port
  })
  for (const reading of readings) {
    if (reading.quantity !== 'pressure') hearContact(next, setup.rig, reading)
    else if (Number.isNaN(reading.value)) continue
    else if (name === 'manometer-2') hearAtSwitch(next, setup.rig, reading)
    else hearPressure(next, setup, reading)
  }
}

function hearContact(next: Run, rig: RigSpec, reading: TimedReading): void {
  const { quantity, value, digit } = reading
  const { contact } = next
  const isStated = quantity === 'contact'
  const before = contact.length > 0 ? stateOf(contact.of.state[contact.length - 1]) : 'unknown'
  const state = stateCode(isStated ? statedContact(value, rig) : contactState(value, before, rig))
  const ohm = isStated ? Number.NaN : value
  next.contact = contact.plus({ ...heardRow(reading), ohm, digitOhm: digit ?? Number.NaN, state })
}

/** How a reading came, as columns hold it. */
function heardRow({ tUs, line, askedUs, waitingUs, deviceUs }: TimedReading): Row<(typeof heardColumns)[number]> {
  return {
    tUs,
    line,
    askedUs: askedUs ?? Number.NaN,
    waitingUs: waitingUs ?? Number.NaN,
    deviceUs: deviceUs ?? Number.NaN,
  }
}

/** A reading of a manometer as a row, its sign turned and corrected by the certificate. */
function pressureRow(manometer: ManometerSpec, reading: TimedReading) {
  // A manometer that shows suction as a negative number overflows to −∞: with its sign it is suction all the same.
  const displayedPa = reading.value * manometer.suctionSign
  const { calibration } = manometer
  // Before the zero is subtracted: the certificate speaks of what is displayed, and its correction at zero goes out again.
  const rawPa = calibration && Number.isFinite(displayedPa) ? correctedPa(calibration, displayedPa) : displayedPa
  return { ...heardRow(reading), rawPa }
}

function hearAtSwitch(next: Run, { atSwitch }: RigSpec, reading: TimedReading): void {
  if (atSwitch) next.atSwitch = next.atSwitch.plus(pressureRow(atSwitch, reading))
}

function hearPressure(next: Run, { rig, rating }: Setup, reading: TimedReading): void {
  const row = pressureRow(rig, reading)
  const { tUs, rawPa } = row
  next.pressure = next.pressure.plus(row)
  next.tracker = trackLive(next.tracker, tUs, rawPa, rating.ratedPa)
  if (next.tracker.finished) next.strokes = append(next.strokes, [next.tracker.finished])
}

function takeTyped(next: Run, rig: RigSpec, event: TypedEvent): void {
  if (next.end !== null) return
  const reading = typedPressure(event, rig)
  if (reading !== null) next.typed = append(next.typed, [reading])
  // Where a meter sends, a key beside it tells nothing.
  else if (rig.typed.contact) next.contact = keyedContact(next.contact, event.t, event.text, rig)
}

function tick(next: Run, tUs: number): void {
  const { tickUs } = next
  if (tickUs !== null && tUs - tickUs > criteria.sleepUs)
    next.sleeps = append(next.sleeps, [{ fromUs: tickUs, toUs: tUs }])
  next.tickUs = tUs
}
