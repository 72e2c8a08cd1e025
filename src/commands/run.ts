// `run`: a test on real or simulated instruments, recorded, shown and decided.
import { rm } from 'node:fs/promises'
import type { Flow } from '../core/guide/guide.ts'
import { cautionsOf } from '../core/model/cautions.ts'
import type { EndReason } from '../core/model/event.ts'
import { type Rig, rigPorts } from '../core/model/rig.ts'
import { type FlowPlan, planWithStrokes, usualPlan } from '../core/plan/test-steps.table.ts'
import { undescribed } from '../described-driver.ts'
import { Problem, type ProblemCode } from '../errors.ts'
import { sealAfterDeath } from '../fold/seal-after-death.ts'
import { type Fold, forTest, problemOf, startFold } from '../fold/start-fold.ts'
import { firstView } from '../fold/view-run.ts'
import { powerText } from '../fold/watch-power.ts'
import { loadDrivers, ownDriverIds, userDriverIds } from '../load-drivers.ts'
import { leaveChain } from '../recording/bench-chain.ts'
import { type AcquisitionPlan, acquire, type Signing } from '../source/acquire.ts'
import type { Paper } from '../terminal/panels/screen-state.ts'
import { capabilityBrief } from '../terminal/text/capability-lines.ts'
import { strokeText } from '../terminal/text/plain.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers } from './bind-drivers.ts'
import { closingLines, type Told, tell, titleOf } from './describe-run.ts'
import { type Hands, hasTerminal, type Opening, openScreen, showPlain } from './display.ts'
import { testDoubts } from './doubt-setup.ts'
import { following } from './earlier-test.ts'
import { verdictStatus } from './exit-status.ts'
import { foldRecording } from './fold-recording.ts'
import { keepAwake, sleepWarning } from './keep-awake.ts'
import { paperBeside } from './paper-beside.ts'
import { planTest } from './plan-test.ts'
import { type DriversOf, type Prepared, prepareRun, type RunOptions } from './prepare-run.ts'
import { print, printWords } from './print.ts'
import { recordVirtually } from './record-virtually.ts'
import { chainFolder, openSigning } from './unlock-key.ts'

const noDecision = ['free', 'leak', 'in-place']
/** Cycles asked for before anything is measured; an undecided result then asks for those that would settle it. */
const mostAtFirst = 10

/** How a test ended; `next`: the options of the one that the operator asked for in its place. */
type Done = { status: number; serial: string | null; next?: RunOptions }

/** Does the test, and those that the operator asks for from its screen; the last one's serial number, and its verdict's exit status. */
export async function runTest(options: RunOptions): Promise<Done> {
  for (let now = options; ; ) {
    const done = await runOnce(now)
    if (!done.next) return done
    now = done.next
  }
}

async function runOnce(options: RunOptions): Promise<Done> {
  if (options.strokes !== undefined && options.cycles !== undefined)
    throw new Problem('usage', '--strokes counts all strokes and --cycles those that count: choose one of the two.')
  let fold: Fold | null = null
  const driversOf: DriversOf = async (rig) => {
    const folder = userFolders().drivers
    const own = ownDriversOf(rig, folder)
    const known = await loadDrivers()
    if (own === null) return known
    fold = startFold(own, forTest)
    const described = (await fold.ask('describe', { rig, folder })).map(undescribed)
    return new Map([...known, ...described.map((driver) => [driver.id, driver] as const)])
  }
  try {
    const prepared = await prepareRun(options, driversOf)
    const plain = options.plain === true || !hasTerminal()
    if (plain && prepared.plan.ports.length < rigPorts(prepared.plan.start.rig).length)
      throw new Problem('usage', 'This rig has readings that are typed: run it on a terminal, without --plain.')
    const opening = openingOf(prepared)
    const serial = prepared.plan.start.part.serial ?? null
    // Nobody watches and nothing is real: no reason to wait for the clock.
    if (prepared.bench !== null && !options.plain && plain)
      return { status: await runAtOnce(prepared, opening), serial }
    const flowPlan = flowPlanOf(prepared, options)
    const { signing, notes } = prepared.bench === null ? await openSigning() : { signing: null, notes: [] }
    const shell = { fold, opening: withNotes(opening, notes), flowPlan, plain, bell: options.bell ?? true, signing }
    const ended = await runInTime(prepared, shell)
    return { serial, ...ended, ...(ended.again && { next: nextOf(options, prepared, ended.again) }) }
  } finally {
    ;(fold as Fold | null)?.stop()
  }
}

/**
 * Ids of the user's own drivers that `rig` names; null where all that it names are the project's, so that none of the
 * user's has to be loaded. One that takes an id of the project's is to be found out.
 */
function ownDriversOf(rig: Rig, folder: string): string[] | null {
  const [ours, theirs] = [ownDriverIds(), userDriverIds(folder)]
  const named = rigPorts(rig).map(({ device }) => device.driver)
  if (named.every((id) => ours.includes(id) && !theirs.includes(id))) return null
  return theirs.filter((id) => named.includes(id))
}

/** Strokes asked of the hand: what was given, else the usual, and as many cycles as this rig needs for this part. */
function flowPlanOf({ plan: { start }, drivers }: Prepared, options: RunOptions): FlowPlan {
  const preconditioning = options.precondition ?? usualPlan.preconditioning
  if (options.strokes !== undefined) return planWithStrokes(options.strokes, preconditioning)
  const { needed } = planTest(start.part, start.rig, drivers).told.cycles
  const cycles = Math.min(mostAtFirst, Math.max(usualPlan.cycles, needed ?? 0))
  return { preconditioning, cycles: options.cycles ?? cycles }
}

/** What this rig can decide of this part, in two lines at most, what is asked about them and the ports, and whether the computer may sleep. */
function openingOf({ plan, drivers, ports: { said } }: Prepared): Opening {
  const { start } = plan
  const saving = plan.ports.filter(({ onForS }) => onForS !== undefined)
  const sleep = start.simulated ? null : sleepWarning()
  const power = saving.length === 0 ? [] : [`${powerText(saving)}: switch that off, or press a key on it in time.`]
  const known = [...power, ...(sleep === null ? [] : [sleep])]
  if (noDecision.includes(start.purpose)) return { lines: [...said, ...known], grave: said.length > 0 }
  const { told } = planTest(start.part, start.rig, drivers)
  const doubts = [...said, ...testDoubts(start.part, start.rig)]
  const lines = [...doubts, ...capabilityBrief(told, start.part), ...known]
  return { lines, grave: doubts.length > 0 || told.decides === 'no' }
}

/** A simulated test in virtual time: recorded, then told from its recording. */
async function runAtOnce({ plan, bench }: Prepared, opening: Opening): Promise<number> {
  if (bench === null) throw new Problem('internal', 'Only a simulated bench runs in virtual time.')
  const { part, purpose, id, software, job } = plan.start
  print('No terminal: the test runs on the simulated bench in virtual time.')
  for (const line of opening.lines) print(line)
  const scenario = { ...bench.scenario, part, purpose }
  // A simulated bench speaks as the project's drivers read: none of the user's own is needed.
  const findDecode = bindDrivers(await loadDrivers())
  recordVirtually(scenario, bench.seed, plan.file, findDecode, {
    ...{ at: new Date().toISOString(), id, software },
    ...(job && { job }),
  })
  const told = tell(await foldRecording(plan.file, findDecode))
  print(titleOf(told.setup.start))
  for (const cycle of told.result.cycles) print(strokeText(cycle, part))
  return conclude(told, plan.file)
}

/** What the operator asked for from the screen of a test: the same once more, or with another serial number. */
type Again = { serial: string } | { after: EndReason | null }

function nextOf(options: RunOptions, { plan: { start } }: Prepared, again: Again): RunOptions {
  if ('serial' in again) return { ...options, serial: again.serial }
  return { ...options, ...following(start, again.after) }
}

const withNotes = ({ lines, grave }: Opening, notes: readonly string[]): Opening => ({
  lines: [...lines, ...notes],
  grave,
})

type Shell = {
  fold: Fold | null
  opening: Opening
  flowPlan: FlowPlan
  plain: boolean
  bell: boolean
  signing: Signing | null
}

/**
 * A test in real time: one process records, one worker reads its file and works it out, and this thread shows that, takes
 * keys, and speaks to both. The worker is started once the screen is drawn, where no driver of the user's own was asked
 * for before.
 */
async function runInTime(
  { plan, ports }: Prepared,
  { fold: begun, opening, flowPlan, plain, bell, signing }: Shell,
): Promise<{ status: number; again: Again | null }> {
  const { file, start } = plan
  const flow: Flow = { plan: flowPlan, asks: !plain }
  let corrected: string | null = null
  let repeats = false
  let paper: Paper | null = null
  const hands: Hands = {
    onMark: (mark, text) => acquiring.mark({ mark, by: 'operator', ...(text === undefined ? {} : { text }) }),
    onTyped: (order) => acquiring.typed(order),
    onEnd: (reason) => acquiring.finish(reason),
    onRepeat: () => {
      repeats = true
    },
    onPaper: (asked) => {
      paper = asked
    },
    onSerial(serial) {
      corrected = serial
      acquiring.mark({ mark: 'note', by: 'operator', text: `The serial number was wrong; it is ${serial}.` })
    },
    onLeave: () => acquiring.finish('abandoned'),
  }
  const display = plain ? showPlain(start) : await openScreen(hands, { start, file, opening, bell })
  if (plain) for (const line of [`Recording: ${file}`, ...opening.lines, ...cautionTexts(plan)]) print(line)
  else display.publish(firstView(start, flow))
  const fold = begun ?? startFold([], forTest)
  // A simulated bench sleeps and wakes with the computer.
  const letSleep = start.simulated ? () => {} : keepAwake()
  const acquiring = acquire(plan, { grew: fold.grew, ended: () => {} }, signing)
  // Sealed first, so that it is read up to its seal.
  void acquiring.exited.then((died) => fold.ended(sealAfterDeath(died, plan)))
  // Ctrl-C is how a test without a verdict is meant to end, and how any other is given up.
  const stopped = () => acquiring.finish(noDecision.includes(start.purpose) ? 'finished' : 'abandoned')
  if (plain) for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, stopped)
  try {
    const outcome = await fold.begin({ plan, flow, unattended: plain }, { ...acquiring, onLive: display.publish })
    if ('fault' in outcome) {
      const fault = problemOf(outcome.fault)
      if (fault.code === 'ports-swapped') await ports.remember(false)
      // A port that did not open, no byte from the other and no mark: there was no test, so nothing is evidence of one. Any
      // other file stays, above all one that was there before.
      if (neverOpened.includes(fault.code) && outcome.nothingCame) {
        await discard(file)
        if (plain) print('No recording is kept: nothing came from any instrument.')
      }
      throw fault
    }
    const seen = outcome.told.result.findings.map(({ code }) => code)
    await ports.rememberPower(outcome.fellSilent, outcome.lastedS)
    if (!seen.includes('no-reading')) await ports.remember(!seen.includes('ports-swapped'))
    await display.left()
    display.close()
    const { told } = outcome
    // No stroke was made: under that serial number there is nothing to keep.
    if (corrected !== null && told.result.cycles.length === 0 && !told.grounds.astray) {
      await discard(file)
      return { status: verdictStatus(told.result.verdict), again: { serial: corrected } }
    }
    const status = conclude(told, told.grounds.astray ? null : file, display.told())
    if (paper !== null && !told.grounds.astray) await paperBeside(file, paper)
    const again = corrected !== null ? { serial: corrected } : repeats ? { after: told.grounds.end ?? null } : null
    return { status, again }
  } catch (error) {
    display.close()
    acquiring.letGo()
    await acquiring.exited
    if (error instanceof Problem && error.code === 'fold-ended') printWords(`Recording: ${file}`)
    throw error
  } finally {
    letSleep()
    fold.stop()
  }
}

/** Deletes a recording that holds nothing, and takes it out of the chain, so that it is not missed there. */
async function discard(file: string): Promise<void> {
  leaveChain(chainFolder(), file)
  await rm(file, { force: true })
}

/** What the recording process says of a port with which a test cannot begin. */
const neverOpened: readonly ProblemCode[] = ['port-absent', 'port-busy', 'port-forbidden', 'port-failed']

/** Without a screen nobody acknowledges them; they are told all the same. */
function cautionTexts({ start }: AcquisitionPlan): string[] {
  return cautionsOf(start.purpose).map(({ text }) => `Caution: ${text}`)
}

/** `file`: null where the recording is not at its path; the reason says where it is. */
function conclude(told: Told, file: string | null, known = false): number {
  if (!known) for (const line of closingLines(told)) printWords(line)
  if (file !== null) printWords(`Recording: ${file}`)
  return verdictStatus(told.result.verdict)
}
