// A seed into a recording of nonsense, and what must hold of it however nonsensical: folded, assessed, guided and judged without a throw.
import { bindDrivers } from '../../src/commands/bind-drivers.ts'
import { analyse } from '../../src/core/analyse.ts'
import { assess } from '../../src/core/assess.ts'
import { guideOf } from '../../src/core/guide/guide.ts'
import { initialRun, step } from '../../src/core/intake/run.ts'
import { judge } from '../../src/core/judge.ts'
import { timesOf } from '../../src/core/model/columns.ts'
import { markNames } from '../../src/core/model/marks.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { readEvent } from './fold-events.ts'
import { createRandom, makeForeignRecording, quietBench } from './foreign-recording.ts'

const findDecode = bindDrivers(await loadDrivers())
const whole = makeForeignRecording({ ...quietBench, cycles: 1, restsS: { before: 4, between: 1, after: 2 } }).events
const [start] = whole

type Random = ReturnType<typeof createRandom>
const pick = <T>(random: Random, from: readonly T[]): T => from[Math.floor(random.uniform() * from.length)]!

function randomText(random: Random): string {
  const texts = [
    () => `${(200 * random.normal()).toFixed(3)} Pa\r\n`,
    () => `${(-0.3 * random.uniform()).toFixed(4)} inH2O\r\n`,
    () =>
      pick(random, [
        'NaN\r\n',
        'OL\r\n',
        '-OL\r\n',
        '+9.9E+37\n',
        '+9.91E+37\n',
        '0.3\n',
        '1e308\n',
        '-1e-320\r\n',
        '\r\n',
        '\n',
      ]),
    () => pick(random, ['0.1 inH2O HOLD\r\n', '12 psi\r\n', '5 ohm\r\n', 'Open\r\n', 'Short\n', '1,2,3;4\n', '0.2']),
    () => Array.from({ length: 12 * random.uniform() }, () => String.fromCharCode(32 + 95 * random.uniform())).join(''),
  ]
  return pick(random, texts)()
}

/** Events in the order of their times: random ones, and of a sound bench those that chance leaves, some of them split or late. */
function nonsense(random: Random): object[] {
  const share = random.uniform() < 0.3 ? random.uniform() : 0
  const out: { t: number; [key: string]: unknown }[] = []
  for (const event of share > 0 ? whole.slice(1) : []) {
    if (random.uniform() > share) continue
    const t = event.t! + (random.uniform() < 0.1 ? Math.floor(1e6 * random.uniform()) : 0)
    const cut = Math.floor(random.uniform() * (event.text?.length ?? 0))
    if (event.type === 'rx' && random.uniform() < 0.1)
      out.push({ ...event, t, text: event.text!.slice(0, cut) }, { ...event, t, text: event.text!.slice(cut) })
    else out.push({ ...event, t })
  }
  const count = Math.floor((share > 0 ? 20 : 60) * random.uniform())
  let t = 0
  for (let i = 0; i < count; i++) {
    t += random.uniform() < 0.4 ? 0 : Math.floor(10 ** (7 * random.uniform()))
    const port = pick(random, ['manometer', 'meter', 'bridge'])
    const kind = random.uniform()
    if (kind < 0.7) out.push({ type: kind < 0.6 ? 'rx' : 'tx', t, port, text: randomText(random) })
    else if (kind < 0.8)
      out.push({ type: 'mark', t, mark: pick(random, markNames), text: pick(random, ['', 'switch', 'line']) })
    else if (kind < 0.9) out.push({ type: 'tick', t })
    else if (kind < 0.97) out.push({ type: 'link', t, port, state: pick(random, ['open', 'lost', 'back']) })
    else out.push({ type: 'end', t, reason: pick(random, ['finished', 'abandoned', 'link-lost', 'over-pressure']) })
  }
  return [start!, ...out.toSorted((a, b) => a.t - b.t)]
}

/** What is wrong with the case of one seed: nothing, or one sentence a fault. A throw is left to the caller. */
export function faultsOf(seed: number): string[] {
  const random = createRandom(seed)
  const faults: string[] = []
  let run = initialRun(findDecode)
  let assessment: ReturnType<typeof assess> = null
  for (const event of nonsense(random)) {
    run = step(run, readEvent(event))
    if (run.setup === null || random.uniform() > 0.1) continue
    assessment = assess(run, assessment)
    guideOf(run, run.setup, assessment, { plan: null, asks: random.uniform() < 0.5 })
  }
  run = step(run, { type: 'seal', t: run.tUs, lines: 1, sha256: '', matches: true })
  const analysis = analyse(run, run.setup!)
  const result = judge(analysis)
  if (result.verdict === 'pass') faults.push('nonsense passes')
  const ordered = (what: string, lo: number | null, hi: number | null) => {
    if (lo !== null && hi !== null && !(lo <= hi)) faults.push(`${what}: ${lo} is not at most ${hi}`)
  }
  for (const { loUs, hiUs } of analysis.edges) ordered('edge', loUs, hiUs)
  for (const timesUs of [timesOf(analysis.track), timesOf(analysis.contact)])
    for (const [i, tUs] of timesUs.entries()) ordered('time', timesUs[i - 1] ?? null, tUs)
  for (const c of result.cycles) {
    ordered('make', c.makeLoPa, c.makeHiPa)
    ordered('break', c.breakLoPa, c.breakHiPa)
  }
  JSON.stringify(result, (key, v) => {
    if (typeof v === 'number' && !Number.isFinite(v)) faults.push(`${key} is ${v}`)
    return v
  })
  return faults
}
