// `run`: a test on real or simulated instruments, recorded, shown and decided.
import { rm } from 'node:fs/promises'
import type { Flow } from '../core/guide/guide.ts'
import { initialRun, type Run, step } from '../core/intake/run.ts'
import { cautionsOf } from '../core/model/cautions.ts'
import type { RecordedEvent } from '../core/model/event.ts'
import { type FlowPlan, planWithStrokes, usualPlan } from '../core/plan/test-steps.table.ts'
import type { Driver } from '../driver.ts'
import { isAstray, Problem, type ProblemCode } from '../errors.ts'
import { loadDrivers } from '../load-drivers.ts'
import { createReader } from '../recording/read.ts'
import { runSession } from '../session.ts'
import { type AcquisitionPlan, type Following, follow } from '../source/follow.ts'
import { capabilityBrief } from '../terminal/text/capability-lines.ts'
import { strokeText } from '../terminal/text/plain.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers, type FindDecode } from './bind-drivers.ts'
import { closingLines, resultWhenSealed, type Told, tell, titleOf } from './describe-run.ts'
import { type Hands, hasTerminal, type Opening, openDisplay } from './display.ts'
import { testDoubts } from './doubt-setup.ts'
import { verdictStatus } from './exit-status.ts'
import { foldRecording } from './fold-recording.ts'
import { createGuard, unproven, unsealed } from './guard-recording.ts'
import { createOverseer } from './oversee-run.ts'
import { planTest } from './plan-test.ts'
import { type Prepared, prepareRun, type RunOptions } from './prepare-run.ts'
import { print, printWords } from './print.ts'
import { recordVirtually } from './record-virtually.ts'
import { createFlowWriter } from './write-flow.ts'

const noDecision = ['free', 'leak', 'in-place']
/** Cycles asked for before anything is measured; an undecided result then asks for those that would settle it. */
const mostAtFirst = 10

/** Does the test; the exit status is its verdict's. */
export async function runTest(options: RunOptions): Promise<number> {
  if (options.strokes !== undefined && options.cycles !== undefined)
    throw new Problem('usage', '--strokes counts all strokes and --cycles those that count: choose one of the two.')
  const drivers = await loadDrivers(userFolders().drivers)
  const findDecode = bindDrivers(drivers)
  const prepared = await prepareRun(options, drivers)
  const plain = options.plain === true || !hasTerminal()
  const opening = openingOf(prepared, drivers)
  // Nobody watches and nothing is real: no reason to wait for the clock.
  if (prepared.bench !== null && !options.plain && plain) return runAtOnce(prepared, opening, findDecode)
  const flowPlan = flowPlanOf(prepared, options, drivers)
  return runInTime(prepared, findDecode, { opening, flowPlan, plain, bell: options.bell ?? true })
}

/** Strokes asked of the hand: what was given, else the usual, and as many cycles as this rig needs for this part. */
function flowPlanOf(
  { plan: { start } }: Prepared,
  options: RunOptions,
  drivers: ReadonlyMap<string, Driver>,
): FlowPlan {
  const preconditioning = options.precondition ?? usualPlan.preconditioning
  if (options.strokes !== undefined) return planWithStrokes(options.strokes, preconditioning)
  const { needed } = planTest(start.part, start.rig, drivers).told.cycles
  const cycles = Math.min(mostAtFirst, Math.max(usualPlan.cycles, needed ?? 0))
  return { preconditioning, cycles: options.cycles ?? cycles }
}

/** What this rig can decide of this part, in two lines at most, and what is asked about them; none where nothing is to be decided. */
function openingOf({ plan: { start } }: Prepared, drivers: ReadonlyMap<string, Driver>): Opening {
  if (noDecision.includes(start.purpose)) return { lines: [], grave: false }
  const { told } = planTest(start.part, start.rig, drivers)
  const doubts = testDoubts(start.part, start.rig)
  return { lines: [...doubts, ...capabilityBrief(told, start.part)], grave: doubts.length > 0 || told.decides === 'no' }
}

/** A simulated test in virtual time: recorded, then told from its recording. */
async function runAtOnce({ plan, bench }: Prepared, opening: Opening, findDecode: FindDecode): Promise<number> {
  if (bench === null) throw new Problem('internal', 'Only a simulated bench runs in virtual time.')
  const { part, purpose, id, software } = plan.start
  print('No terminal: the test runs on the simulated bench in virtual time.')
  for (const line of opening.lines) print(line)
  const scenario = { ...bench.scenario, part, purpose }
  recordVirtually(scenario, bench.seed, plan.file, findDecode, { at: new Date().toISOString(), id, software })
  const told = tell(await foldRecording(plan.file, findDecode))
  print(titleOf(told.setup))
  for (const cycle of told.result.cycles) print(strokeText(cycle, part))
  return conclude(told, plan.file)
}

type Shell = { opening: Opening; flowPlan: FlowPlan; plain: boolean; bell: boolean }

/** A test in real time: the other process records, this one follows its file. */
async function runInTime({ plan }: Prepared, findDecode: FindDecode, shell: Shell): Promise<number> {
  const { opening, flowPlan, plain, bell } = shell
  if (plain) for (const line of [`Recording: ${plan.file}`, ...opening.lines, ...cautionTexts(plan)]) print(line)
  const following = follow(plan, createReader())
  const hands: Hands = {
    onMark: (mark, text) => following.mark({ mark, by: 'operator', ...(text === undefined ? {} : { text }) }),
    onEnd: (reason) => following.finish(reason),
    onLeave: () => following.finish('abandoned'),
  }
  const flow: Flow = { plan: flowPlan, asks: !plain }
  const display = await openDisplay(plain, hands, { opening, flow, file: plan.file, bell })
  const writeFlow = createFlowWriter(following.mark)
  // Ctrl-C is how a test without a verdict is meant to end, and how any other is given up.
  const stopped = () => following.finish(noDecision.includes(plan.start.purpose) ? 'finished' : 'abandoned')
  if (plain) for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, stopped)
  const oversee = createOverseer(plan, plain)
  const guard = createGuard(plan, following)
  let refused: Problem | null = null
  let heard = false
  let astray: Problem | null
  let run: Run
  try {
    run = await runSession({
      source: following.batches,
      initial: initialRun(findDecode),
      step: (state: Run, event: RecordedEvent) => {
        heard ||= event.type === 'rx'
        return step(state, event)
      },
      publish: (state) => {
        guard.look(state)
        // Before the file at its path is known to be the one that was sealed, nothing is said of how it ended.
        const live = display.publish(unsealed(state))
        answerEnd(state, following)
        if (live) writeFlow(state, live)
        const order = live && oversee(state, live)
        if (order instanceof Problem) refused ??= order
        if (order) following.finish(order instanceof Problem ? 'abandoned' : order)
      },
    })
    const died = await following.exited
    astray = died !== null && isAstray(died) ? died : await guard.confirm(run)
    const fault = astray === null ? (refused ?? died) : run.setup === null ? astray : null
    // A port that did not open, no byte from the other and no mark: there was no test, so nothing is evidence of one. Any
    // other file stays, above all one that was there before.
    if (fault !== null && neverOpened.includes(fault.code) && run.setup !== null && !heard && run.marks.length === 0) {
      await rm(plan.file, { force: true })
      if (plain) print('No recording is kept: nothing came from any instrument.')
    }
    if (fault !== null) throw fault
    if (astray !== null) run = unproven(run)
    display.publish(run, { astray })
    await display.left()
  } finally {
    display.close()
    guard.close()
  }
  return conclude(tell(run, astray), astray === null ? plan.file : null, display.told())
}

/** What the recording process says of a port with which a test cannot begin. */
const neverOpened: readonly ProblemCode[] = ['port-absent', 'port-busy', 'port-forbidden', 'port-failed']

/** Without a screen nobody acknowledges them; they are told all the same. */
function cautionTexts({ start }: AcquisitionPlan): string[] {
  return cautionsOf(start.purpose).map(({ text }) => `Caution: ${text}`)
}

/** Once the last input is read, its result goes back to be recorded with the seal. */
function answerEnd(run: Run, following: Following): void {
  if (run.end !== null && run.damage.seal === 'missing') following.sendVerdict(resultWhenSealed(run))
}

/** `file`: null where the recording is not at its path; the reason says where it is. */
function conclude(told: Told, file: string | null, known = false): number {
  if (!known) for (const line of closingLines(told)) printWords(line)
  if (file !== null) printWords(`Recording: ${file}`)
  return verdictStatus(told.result.verdict)
}
