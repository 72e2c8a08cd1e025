// One bench in simulated time: hand, air, switch, wiring and instruments stepped from event to event into the bytes that leave them.
import type { MarkName } from '../core/model/marks.ts'
import type { PortName } from '../core/model/rig.ts'

import { createHand } from './hand.ts'
import { heedingMoves, practised } from './heeding-moves.ts'
import { createManometer, type Line } from './manometer.ts'
import { createMeter } from './meter.ts'
import { drawn, kickPa, slipPa, vented } from './pneumatics.ts'
import { createRandom } from './random.ts'
import { lagged, pressureAt, reaches, type Stretch } from './response.ts'
import type { Scenario } from './scenario.ts'
import { createSpells } from './spells.ts'
import { createSwitch, type Trip } from './switch.ts'
import { createSerialLine, type SerialLine } from './wire-time.ts'
import { ohmsAtMeter } from './wiring.ts'

/** What a bench gives off, at its time in µs since the start: bytes at their arrival, one whole line each; cables; marks of the flow. */
export type Emission =
  | { type: 'bytes'; timeUs: number; port: PortName; bytes: string }
  | { type: 'link'; timeUs: number; port: PortName; state: 'lost' | 'back' }
  | { type: 'mark'; timeUs: number; mark: MarkName }

export type Bench = {
  /** Everything given off up to and including `timeUs` that was not given before, in order of time. */
  advanceTo(timeUs: number): Emission[]
  /** Bytes written to an instrument at `timeUs`, which must not be less than at the call before. */
  write(port: PortName, bytes: string, timeUs: number): void
  /** A mark of the flow was shown: heard by a hand that follows the screen. */
  tell(mark: MarkName): void
  /** When the next emission that is known already falls due; never later than the true next one. */
  nextUs(): number
  /** The hand has finished: the instruments go on, vented. */
  readonly done: boolean
  /** The trips so far, as they happened at the diaphragm. */
  readonly trips: readonly Trip[]
}

// A vented rest is stepped in pieces of this length, so that a live bench never runs far ahead of its time.
const pieceS = 1

/** The hand makes the moves of its plan at its own times, or follows a screen whose clock the bench outruns `hurry` times. */
export type HandOrders = 'plan' | { hurry: number }

/** The bench of a scenario; the same seed gives the same bytes. */
export function createBench(scenario: Scenario, seed: number, orders: HandOrders = 'plan'): Bench {
  const { rig, truth } = scenario
  const plan = orders === 'plan' ? scenario.plan : practised(scenario.plan)
  const heard: MarkName[] = []
  const { air } = truth
  const random = createRandom(seed)
  const pressurePort: PortName = rig.bridge ? 'bridge' : 'manometer'
  const meterPort: PortName = rig.bridge ? 'bridge' : 'meter'

  const manometerSpells = {
    holds: createSpells(truth.manometer.holds),
    unitChanges: createSpells(truth.manometer.unitChanges),
    offsetSteps: createSpells(truth.manometer.offsetSteps),
  }
  const leadsOff = createSpells(truth.leadsOff)
  const cables = Object.fromEntries(
    (['manometer', 'meter', 'bridge'] as const).map((port) => [
      port,
      createSpells(truth.cables.filter((cable) => cable.port === port)),
    ]),
  ) as Record<PortName, ReturnType<typeof createSpells<(typeof truth.cables)[number]>>>

  const part = createSwitch(truth.switch, random.fork('switch'))
  const moves = orders === 'plan' ? [] : [heedingMoves(plan, heard, orders.hurry)]
  const hand = createHand(plan, (slipMm) => slipPa(slipMm, air), random.fork('hand'), ...moves)
  const manometer = createManometer(truth.manometer, manometerSpells, random.fork('manometer'))
  const meter = createMeter(truth.meter, probe, random.fork('meter'))
  const pressureLine = createSerialLine((rig.bridge ?? rig.manometer)?.port, cables[pressurePort])
  const meterLine = rig.bridge ? pressureLine : createSerialLine(rig.meter?.port, cables[meterPort])

  const queue: Emission[] = []
  const trips: Trip[] = []
  let steppedUs = 0
  let doneUs = Number.POSITIVE_INFINITY
  let timeUs = 0
  let teePa = 0
  let switchPa = 0
  /** When the diaphragm has finished its last jump. */
  let arrivedUs = 0

  function probe(atUs: number) {
    const throws = part.throwsAt(atUs)
    return { ohm: ohmsAtMeter(throws, truth.wiring, leadsOff.at(atUs) !== null), sinceUs: throws.sinceUs }
  }

  // Emissions fall due nearly in order, so the place is found from the end.
  function emit(emission: Emission) {
    let place = queue.length
    while (place > 0 && queue[place - 1]!.timeUs > emission.timeUs) place--
    queue.splice(place, 0, emission)
  }

  function send(port: PortName, wire: SerialLine, lines: readonly Line[]) {
    for (const line of lines) {
      const arrival = wire.send(line)
      if (arrival) emit({ type: 'bytes', port, ...arrival })
    }
  }

  function startStroke() {
    part.startStroke()
    const stroke = part.stroke()
    for (const spells of [...Object.values(manometerSpells), leadsOff]) spells.strokeStarted(stroke, steppedUs)
    for (const spells of Object.values(cables))
      for (const { port, startUs, endUs } of spells.strokeStarted(stroke, steppedUs)) {
        emit({ type: 'link', timeUs: startUs, port, state: 'lost' })
        if (Number.isFinite(endUs)) emit({ type: 'link', timeUs: endUs, port, state: 'back' })
      }
  }

  /** One stretch of pressure: up to the end of the grip, the pressure it aims at, or the next trip, whichever is first. */
  function step(): void {
    const grip = hand.grip(steppedUs, teePa)
    if (grip?.kind === 'cue') {
      if (grip.cue === 'stroke') startStroke()
      else emit({ type: 'mark', timeUs: steppedUs, mark: grip.cue })
      return
    }
    if (grip === null) doneUs = Math.min(doneUs, steppedUs)
    let lastsS = Math.min(pieceS, grip?.lastsS ?? pieceS)
    let atTee: Stretch
    if (grip?.kind === 'draw') {
      // A hand that watches the display makes up for what a leak takes, except where it means to stand still.
      const madeUpPaPerS = air.leakTauS !== null && grip.ratePaPerS !== 0 ? teePa / air.leakTauS : 0
      atTee = drawn(teePa, grip.ratePaPerS + madeUpPaPerS, air)
      if (grip.untilPa !== null)
        lastsS = Math.min(lastsS, reaches(atTee, grip.untilPa, grip.ratePaPerS > 0, lastsS) ?? lastsS)
    } else atTee = vented(teePa, air)

    const atSwitch = lagged(atTee, switchPa, air.hoseS)
    // A diaphragm under way cannot turn back before it has arrived.
    const moving = steppedUs < arrivedUs
    if (moving) lastsS = Math.min(lastsS, (arrivedUs - steppedUs) / 1e6)
    const next = moving ? null : part.next()
    const tripS = next && reaches(atSwitch, next.pressurePa, next.rising, lastsS)
    if (tripS !== null) lastsS = tripS

    // Whole microseconds, rounded up: at the end of the stretch the level has been reached.
    const endUs = steppedUs + Math.ceil(lastsS * 1e6)
    const stretchS = (endUs - steppedUs) / 1e6
    const pressureLines = manometer.follow(atTee, steppedUs, endUs)
    const meterLines = meter.runTo(endUs)
    if (rig.bridge)
      send(
        pressurePort,
        pressureLine,
        [...pressureLines, ...meterLines].sort((a, b) => a.readyUs - b.readyUs),
      )
    else {
      send(pressurePort, pressureLine, pressureLines)
      send(meterPort, meterLine, meterLines)
    }
    teePa = pressureAt(atTee, stretchS)
    switchPa = pressureAt(atSwitch, stretchS)
    steppedUs = endUs
    if (tripS !== null) trip()
    // The step of the air itself; the slip is over when the plunger has stood its time.
    else if (grip?.kind === 'draw' && grip.slipMm !== 0)
      jump(Math.sign(grip.slipMm) * slipPa(Math.abs(grip.slipMm), air))
  }

  function trip() {
    const happened = part.trip(steppedUs)
    trips.push(happened)
    hand.hear(steppedUs)
    arrivedUs = steppedUs + Math.round(truth.switch.contact.transferS * 1e6)
    const kick = kickPa(truth.switch.makePa - truth.switch.breakPa, air)
    jump(happened.transition === 'make' ? -kick : kick)
  }

  function jump(stepPa: number) {
    teePa += stepPa
    // A hose that lags hides the step from the far end for a moment; a short one does not.
    if (air.hoseS === 0) switchPa = teePa
  }

  return {
    advanceTo(toUs) {
      timeUs = Math.max(timeUs, toUs)
      while (steppedUs <= timeUs) step()
      let ready = 0
      while (ready < queue.length && queue[ready]!.timeUs <= timeUs) ready++
      return queue.splice(0, ready)
    },
    write(port, bytes, writtenUs) {
      if (port !== meterPort) return
      const readUs = meterLine.receive(bytes, Math.max(writtenUs, timeUs))
      if (readUs === null) return
      while (steppedUs <= readUs) step()
      send(meterPort, meterLine, meter.ask(bytes, readUs))
    },
    tell: (mark) => heard.push(mark),
    nextUs: () => Math.min(queue[0]?.timeUs ?? steppedUs, steppedUs),
    get done() {
      return timeUs >= doneUs
    },
    trips,
  }
}
