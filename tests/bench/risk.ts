// `npm run bench:risk [parts]`: parts exactly at a limit, the gauge's error dominating: how many pass; exit status 1 above the bar.
import { fork } from 'node:child_process'
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { analyse } from '../../src/core/analyse.ts'
import { criteria } from '../../src/core/criteria.table.ts'
import { judge } from '../../src/core/judge.ts'
import { pressureUnits } from '../../src/core/model/units.ts'
import { strokesOf, usualPlan } from '../../src/core/plan/test-steps.table.ts'
import { normalCdf } from '../../src/core/statistics/normal.ts'
import { goodBench } from '../../src/simulation/good-bench.ts'
import type { Scenario } from '../../src/simulation/scenario.ts'
import { createRandom } from '../harness/foreign-recording.ts'
import { gaugeU } from './accuracy-scenarios.ts'
import { runOf } from './measure-part.ts'

/** Largest share of parts at a limit that may pass with guard factor 1; JCGM 106:2012, 8.3.2: w = U gives about 2.5 %. */
const bar = 0.025

type Tally = { parts: number; passed: number; acceptedInside: number; uPa: number; UPa: number }

/** A part whose make stands exactly at its low limit, scatter 0.1 Pa: under 0.2 of the gauge's uncertainty, so that the guard decides. */
function partAtLimit(gaugeErrorPa: number): Scenario {
  const good = goodBench()
  const limitPa = 0.22 * pressureUnits.inH2O
  const { truth, plan } = good
  return {
    ...good,
    plan: {
      ...plan,
      // The strokes of the usual test, faster ones included; the preconditioning is left out, since nothing is read from it.
      preconditioning: 0,
      restS: 2,
      cycles: usualPlan.cycles,
      briskStrokes: strokesOf('fast-cycles', usualPlan),
      briskFactor: criteria.briskRatio,
      expectedMakePa: limitPa,
      expectedBreakPa: 0.78 * limitPa,
    },
    truth: {
      ...truth,
      switch: { ...truth.switch, makePa: limitPa, breakPa: 0.78 * limitPa, scatterPa: 0.1 },
      manometer: { ...truth.manometer, offsetPa: 0, gainError: gaugeErrorPa / limitPa, noisePa: 0.05 },
    },
  }
}

function tally(first: number, parts: number): Tally {
  const out = { parts, passed: 0, acceptedInside: 0, uPa: 0, UPa: 0 }
  for (let seed = first; seed < first + parts; seed++) {
    const random = createRandom(seed * 104_729 + 5)
    for (let i = 0; i < 10; i++) random.uniform()
    const run = runOf(partAtLimit(gaugeU * random.normal()), seed)
    if (!run.setup) throw new Error('a run that has not begun')
    const result = judge(analyse(run, run.setup))
    if (result.verdict === 'pass') out.passed++
    if (result.limits.find((l) => l.name === 'make')?.outcome === 'pass') out.acceptedInside++
    out.uPa += (result.make.uPa ?? Number.NaN) / parts
    out.UPa += (result.make.UPa ?? Number.NaN) / parts
  }
  return out
}

async function runAll(parts: number): Promise<number> {
  const workers = Math.min(4, availableParallelism())
  const share = Math.ceil(parts / workers)
  const tallies = await Promise.all(
    Array.from(
      { length: workers },
      (_, i) =>
        new Promise<Tally>((resolve, reject) => {
          const args = [String(share), String(1 + i * share)]
          const child = fork(fileURLToPath(import.meta.url), args, { execArgv: process.execArgv })
          child.on('message', (m) => resolve(m as Tally))
          child.on('exit', (code) => reject(new Error(`ended with ${code}`)))
        }),
    ),
  )
  const sum = (of: (t: Tally) => number) => tallies.reduce((total, t) => total + of(t), 0)
  const n = sum((t) => t.parts)
  const passed = sum((t) => t.passed) / n
  const make = sum((t) => t.acceptedInside) / n
  const [uPa, UPa] = [sum((t) => t.uPa * t.parts) / n, sum((t) => t.UPa * t.parts) / n]
  const allowed = bar + 2 * Math.sqrt((bar * (1 - bar)) / n)
  // What the rule itself promises: the chance that a gauge error exceeds the guard, JCGM 106:2012, 9.3.2 and 9.5 at one value.
  const predicted = 1 - normalCdf(UPa / gaugeU)
  console.log(`${n} parts with their make exactly at the low limit, guard factor 1`)
  console.log(`u ${uPa.toFixed(3)} Pa, guard U ${UPa.toFixed(3)} Pa, gauge ${gaugeU.toFixed(3)} Pa`)
  console.log(
    `make inside its guarded limits ${(100 * make).toFixed(2)} %, predicted by JCGM 106 ${(100 * predicted).toFixed(2)} %`,
  )
  console.log(`passed as a whole ${(100 * passed).toFixed(2)} %, at most ${(100 * allowed).toFixed(2)} % allowed`)
  return passed <= allowed && make <= allowed ? 0 : 1
}

const [partsText, firstText] = process.argv.slice(2)
if (firstText === undefined) process.exitCode = await runAll(Number(partsText ?? 2000))
else process.send?.(tally(Number(firstText), Number(partsText)))
