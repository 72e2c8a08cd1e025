// A scenario: part, rig, hand and the truth about all of them as plain data, and what an honest test must find.

import type { Conditions } from '../core/model/conditions.ts'
import type { Part } from '../core/model/part.ts'
import type { Purpose } from '../core/model/purposes.ts'
import type { Verdict } from '../core/model/result.ts'
import type { PortName, Rig } from '../core/model/rig.ts'
import type { BoardTruth } from './board-line.ts'
import type { HandPlan } from './hand-plan.ts'
import type { LinkTruth, StallTruth } from './link-delays.ts'
import type { ManometerTruth } from './manometer.ts'
import type { MeterTruth } from './meter.ts'
import { hoseTauS, type Pneumatics } from './pneumatics.ts'
import type { Spell } from './spells.ts'
import type { SwitchTruth } from './switch.ts'
import type { CableTruth } from './wire-time.ts'
import type { WiringTruth } from './wiring.ts'

export type Scenario = {
  name: string
  /** One sentence: what is the matter with this bench. */
  title: string
  purpose: Purpose
  part: Part
  rig: Rig
  conditions: Conditions
  plan: HandPlan
  truth: {
    air: Pneumatics
    switch: SwitchTruth
    wiring: WiringTruth
    manometer: ManometerTruth
    /** The second manometer, at the switch end; null where the rig has none. */
    atSwitch: ManometerTruth | null
    /** It was put on the tee instead. */
    secondAtTee: boolean
    meter: MeterTruth
    /** Manometer and contact are one board that states its own time on each line; null = they are not. */
    board: BoardTruth | null
    cables: readonly CableTruth[]
    links: readonly LinkTruth[]
    stalls: StallTruth | null
    /** A lead of the meter is off its clip. */
    leadsOff: readonly Spell[]
  }
  expected: Expected
}

/** What a test of this scenario must come to: its verdict and exactly these finding codes; a null verdict: chance decides, the codes are likely ones. */
export type Expected = { verdict: Verdict | null; findings: readonly string[] }

/** The true values that a result is held against. */
export type Truth = {
  /** At zero rate, in the middle of the counted cycles; null where the mechanism does not move. */
  makePa: number | null
  breakPa: number | null
  /** Contact path less pressure path, damping included (the recording's definition of lag), s. */
  lagS: number
  /** The part of the lag that the hose between tee and switch makes, the diaphragm floating. */
  hoseS: number
  expected: Expected
}

/** The truth of a scenario in Pa and s. */
export function truthOf(scenario: Scenario): Truth {
  const { truth, plan } = scenario
  const { manometer, meter, air } = truth
  const middleStroke = 1 + plan.preconditioning + (plan.cycles + plan.briskStrokes - 1) / 2
  const driftPa = truth.switch.driftPaPerStroke * middleStroke
  const hoseS = hoseTauS(air)
  return {
    makePa: truth.switch.stuck ? null : truth.switch.makePa + driftPa,
    breakPa: truth.switch.stuck ? null : truth.switch.breakPa + driftPa,
    lagS: hoseS + meter.delayS + meter.integrationS / 2 - manometer.deadS - manometer.dampingS - manometer.boxcarS / 2,
    hoseS,
    expected: scenario.expected,
  }
}

/** The same scenario with its instruments at other device paths; a port that is not named keeps its own. */
export function withPaths(scenario: Scenario, paths: Partial<Record<PortName, string>>): Scenario {
  const { manometer, 'manometer-2': second, meter, bridge } = scenario.rig
  const rig: Rig = { ...scenario.rig }
  if (manometer && paths.manometer) rig.manometer = { ...manometer, port: { ...manometer.port, path: paths.manometer } }
  const secondPath = paths['manometer-2']
  if (second && secondPath) rig['manometer-2'] = { ...second, port: { ...second.port, path: secondPath } }
  if (meter && paths.meter) rig.meter = { ...meter, port: { ...meter.port, path: paths.meter } }
  if (bridge && paths.bridge) rig.bridge = { ...bridge, port: { ...bridge.port, path: paths.bridge } }
  return { ...scenario, rig }
}
