// One bench in simulated time: hand, air, switch, wiring and instruments stepped from event to event into the bytes that leave them.
import type { MarkName } from '../core/model/marks.ts'
import { type PortName, portNames } from '../core/model/rig.ts'
import { boardClosedBelowOhm, boardLine } from './board-line.ts'
import { createHand, type Grip } from './hand.ts'
import { heedingMoves, practised } from './heeding-moves.ts'
import { createLinkDelays, createStalls } from './link-delays.ts'
import { createManometer, type Line, type ManometerTruth } from './manometer.ts'
import { createMeter } from './meter.ts'
import { createNearTrip } from './near-trip.ts'
import { createNetwork, stepUs } from './network.ts'
import { createPlunger } from './plunger.ts'
import { slipPa } from './pneumatics.ts'
import { createRandom } from './random.ts'
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

function spellsOf({ holds, unitChanges, offsetSteps }: ManometerTruth) {
  return {
    holds: createSpells(holds),
    unitChanges: createSpells(unitChanges),
    offsetSteps: createSpells(offsetSteps),
  }
}

/** The hand makes the moves of its plan at its own times, or follows a screen whose clock the bench outruns `hurry` times. */
export type HandOrders = 'plan' | { hurry: number }

/** The bench of a scenario; the same seed gives the same bytes. */
export function createBench(scenario: Scenario, seed: number, orders: HandOrders = 'plan'): Bench {
  const { rig, truth } = scenario
  const plan = orders === 'plan' ? scenario.plan : practised(scenario.plan, orders.hurry)
  const heard: MarkName[] = []
  const { air } = truth
  const random = createRandom(seed)
  const pressurePort: PortName = rig.bridge ? 'bridge' : 'manometer'
  const meterPort: PortName = rig.bridge ? 'bridge' : 'meter'

  const manometerSpells = spellsOf(truth.manometer)
  const atSwitchSpells = truth.atSwitch && spellsOf(truth.atSwitch)
  const leadsOff = createSpells(truth.leadsOff)
  const cables = Object.fromEntries(
    portNames.map((port) => [port, createSpells(truth.cables.filter((cable) => cable.port === port))]),
  ) as Record<PortName, ReturnType<typeof createSpells<(typeof truth.cables)[number]>>>

  const part = createSwitch(truth.switch, random.fork('switch'))
  const moves = orders === 'plan' ? [] : [heedingMoves(plan, heard, orders.hurry)]
  const hand = createHand(plan, (slipMm) => slipPa(slipMm, air), random.fork('hand'), ...moves)
  const network = createNetwork(air, truth.switch)
  const plunger = createPlunger(plan, air, network)
  const manometer = createManometer(truth.manometer, manometerSpells, random.fork('manometer'))
  const atSwitch = truth.atSwitch &&
    atSwitchSpells && {
      manometer: createManometer(truth.atSwitch, atSwitchSpells, random.fork('manometer-2')),
      line: createSerialLine(rig['manometer-2']?.port, cables['manometer-2']),
    }
  const tripHold = truth.manometer.tripHolds && createNearTrip(truth.manometer.tripHolds, random.fork('trip-holds'))
  const tripPause = plan.tripPauses && createNearTrip(plan.tripPauses, random.fork('trip-pauses'))
  const meter = createMeter(truth.meter, probe, random.fork('meter'))
  const pressureLine = createSerialLine((rig.bridge ?? rig.manometer)?.port, cables[pressurePort])
  const meterLine = rig.bridge ? pressureLine : createSerialLine(rig.meter?.port, cables[meterPort])
  const stalls = createStalls(truth.stalls, random.fork('stalls'))
  const delaysOf = (port: PortName) =>
    createLinkDelays(truth.links.find((link) => link.port === port) ?? null, stalls, random.fork(`link-${port}`))
  const pressureDelays = delaysOf(pressurePort)
  const meterDelays = rig.bridge ? pressureDelays : delaysOf(meterPort)
  const atSwitchDelays = delaysOf('manometer-2')

  const queue: Emission[] = []
  const trips: Trip[] = []
  let steppedUs = 0
  let doneUs = Number.POSITIVE_INFINITY
  let timeUs = 0
  let drawing = false
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
    const delays = port === meterPort ? meterDelays : port === 'manometer-2' ? atSwitchDelays : pressureDelays
    for (const line of lines) {
      const arrival = wire.send(line)
      if (arrival) for (const got of delays.pass(arrival)) emit({ type: 'bytes', port, ...got })
    }
  }

  /** The line of the manometer, or of the board in its place, with what the contact was as the pressure was taken. */
  function asSent(line: Line): Line {
    if (!truth.board) return line
    const takenUs = line.readyUs - Math.round(truth.manometer.deadS * 1e6)
    const closed = probe(takenUs).ohm < boardClosedBelowOhm
    return { ...line, bytes: boardLine(truth.board, takenUs, line.bytes.trim(), closed) }
  }

  function startStroke() {
    part.startStroke()
    awaitTrip()
    const stroke = part.stroke()
    for (const spells of [...Object.values(manometerSpells), ...Object.values(atSwitchSpells ?? {}), leadsOff])
      spells.strokeStarted(stroke, steppedUs)
    for (const spells of Object.values(cables))
      for (const { port, startUs, endUs } of spells.strokeStarted(stroke, steppedUs)) {
        emit({ type: 'link', timeUs: startUs, port, state: 'lost' })
        if (Number.isFinite(endUs)) emit({ type: 'link', timeUs: endUs, port, state: 'back' })
      }
  }

  function awaitTrip() {
    tripHold?.await()
    tripPause?.await()
  }

  /** One piece of the hand's work: up to the end of its grip, the pressure it aims at, or the next trip, whichever is first. */
  function step(): void {
    const grip = hand.grip(steppedUs, network.teePa)
    if (grip?.kind === 'cue') {
      if (grip.cue === 'stroke') startStroke()
      else if (grip.cue === 'pinch' || grip.cue === 'let-go') network.pinch(grip.cue === 'pinch')
      else emit({ type: 'mark', timeUs: steppedUs, mark: grip.cue })
      return
    }
    if (grip === null) doneUs = Math.min(doneUs, steppedUs)
    const draw = grip?.kind === 'draw' ? grip : null
    if (drawing && !draw) {
      plunger.released()
      manometer.vented(steppedUs)
      atSwitch?.manometer.vented(steppedUs)
    }
    drawing = draw !== null
    const lastsUs = 1e6 * Math.min(pieceS, grip?.lastsS ?? pieceS)
    const endUs = steppedUs + Math.max(1, Math.ceil(lastsUs / stepUs - 1e-6)) * stepUs
    const pressureLines: Line[] = []
    const atSwitchLines: Line[] = []
    let ended = false
    while (!ended && steppedUs < endUs) ended = tick(draw, pressureLines, atSwitchLines)
    if (atSwitch) send('manometer-2', atSwitch.line, atSwitchLines)
    const meterLines = meter.runTo(steppedUs)
    if (rig.bridge)
      send(
        pressurePort,
        pressureLine,
        [...pressureLines.map(asSent), ...meterLines].sort((a, b) => a.readyUs - b.readyUs),
      )
    else {
      send(pressurePort, pressureLine, pressureLines)
      send(meterPort, meterLine, meterLines)
    }
    // The slip is over when the plunger has rested its time.
    if (draw && !ended && draw.slipMm !== 0) network.slip(draw.slipMm * air.plungerMm2 * 1e-9)
  }

  /** One step of the air; true where the hand looks again. */
  function tick(draw: Extract<Grip, { kind: 'draw' }> | null, lines: Line[], atSwitchLines: Line[]): boolean {
    const startUs = steppedUs
    const { teePa, switchPa } = network
    network.step(draw ? plunger.draw(draw, startUs) : 0, draw === null)
    steppedUs += stepUs
    for (const line of manometer.follow(teePa, network.teePa, startUs, steppedUs)) lines.push(line)
    if (atSwitch) {
      const [fromPa, toPa] = truth.secondAtTee ? [teePa, network.teePa] : [switchPa, network.switchPa]
      for (const line of atSwitch.manometer.follow(fromPa, toPa, startUs, steppedUs)) atSwitchLines.push(line)
    }

    const next = part.next()
    // A diaphragm under way cannot turn back before it has arrived.
    if (next && steppedUs > arrivedUs) {
      const sign = next.rising ? 1 : -1
      const leftPa = sign * (next.pressurePa - network.switchPa)
      const wonPa = sign * (network.switchPa - switchPa)
      if (leftPa <= 0) {
        trip(Math.ceil(steppedUs + (wonPa > 0 ? Math.max(-1, leftPa / wonPa) * stepUs : 0)))
        return true
      }
      if (draw?.slow) {
        const awayS = leftPa / (sign * draw.ratePaPerS)
        const holdsS = tripHold?.begins(awayS) ?? null
        if (holdsS !== null) manometer.hold(steppedUs + 1e6 * holdsS)
        const pausesS = tripPause?.begins(awayS) ?? null
        if (pausesS !== null) {
          hand.pause(pausesS)
          return true
        }
      }
    }
    if (!draw || draw.untilPa === null) return false
    return draw.ratePaPerS > 0 ? network.teePa >= draw.untilPa : network.teePa <= draw.untilPa
  }

  function trip(trippedUs: number) {
    const happened = part.trip(trippedUs)
    trips.push(happened)
    hand.hear(trippedUs)
    plunger.snapped(trippedUs)
    arrivedUs = trippedUs + Math.round(truth.switch.contact.transferS * 1e6)
    network.snap(happened.transition === 'make', part.differentialPa())
    awaitTrip()
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
