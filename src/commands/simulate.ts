// `simulate`: a chosen or random bench into a recording with its truth beside it, or into instruments on pseudo-terminals.
import { mkdtempSync } from 'node:fs'
import { rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { rigPorts } from '../core/model/rig.ts'
import { usualPlan } from '../core/plan/test-steps.table.ts'
import { Problem } from '../errors.ts'
import { loadDrivers } from '../load-drivers.ts'
import { findScenario, scenarioNames } from '../simulation/find-scenario.ts'
import { shortened } from '../simulation/good-bench.ts'
import { type Scenario, truthOf } from '../simulation/scenario.ts'
import { type Served, serveBench } from '../simulation/serve.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers } from './bind-drivers.ts'
import { closingLines, tell, titleOf } from './describe-run.ts'
import { foldRecording } from './fold-recording.ts'
import { heedRecordings } from './heed-recordings.ts'
import { makeFolder } from './make-folder.ts'
import { print, printWords } from './print.ts'
import { recordVirtually } from './record-virtually.ts'

export type SimulateOptions = {
  seed: number
  out?: string
  random?: true
  short?: true
  serve?: true
  speed?: number
  list?: true
}

/** Does what the options say; exit status 0 where it was done, whatever the simulated part's verdict. */
export async function simulate(name: string | undefined, options: SimulateOptions): Promise<number> {
  if (options.list) return listScenarios()
  if (options.random && name !== undefined)
    throw new Problem('usage', `--random draws the bench by chance and "${name}" names one: choose one of the two.`)
  if (options.speed !== undefined && !options.serve)
    throw new Problem('usage', '--speed is for --serve only: a recording is written at once.')
  const found = findScenario(options.random ? 'random' : (name ?? 'good'), options.seed)
  const scenario = options.short ? shortened(found) : found
  if (options.serve) return serve(scenario, options)
  return record(scenario, options)
}

function listScenarios(): number {
  const width = Math.max(...scenarioNames.map((name) => name.length))
  for (const name of scenarioNames) print(`${name.padEnd(width)}  ${findScenario(name, 1).title}`)
  return 0
}

async function record(scenario: Scenario, { seed, out = '.', random }: SimulateOptions): Promise<number> {
  const findDecode = bindDrivers(await loadDrivers())
  const name = `${random ? 'random' : scenario.name}-${seed}`
  const path = join(out, `${name}.run`)
  const truthPath = join(out, `${name}.truth.json`)
  await makeFolder(out)
  const trips = recordVirtually(scenario, seed, path, findDecode)
  const truth = { scenario: scenario.name, title: scenario.title, seed, ...truthOf(scenario), trips }
  await writeFile(truthPath, `${JSON.stringify(truth, null, 2)}\n`)
  const told = tell(await foldRecording(path, findDecode))
  for (const line of [titleOf(told.setup.start), ...closingLines(told), `Recording: ${path}`, `Truth: ${truthPath}`])
    printWords(line)
  return 0
}

async function serve(scenario: Scenario, { seed, out, speed = 1 }: SimulateOptions): Promise<number> {
  // From here on: a Ctrl-C while the bench is set up leaves no folder behind either.
  const stop = new Promise<void>((done) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => done())
  })
  const folder = out ?? mkdtempSync(join(tmpdir(), 'makebreak-bench-'))
  try {
    const served = await serveBench({ scenario, seed, speed, folder, start: 'screen' })
    const { recordings } = userFolders()
    let tested = 0
    const ignore = heedRecordings(recordings, {
      isMine: ({ rig }) => rigPorts(rig).some(({ name, device }) => device.port?.path === served.paths[name]),
      begun() {
        // Each test begins with a part and a hand of its own.
        if (tested++ > 0) served.nextPart()
      },
      told: served.tell,
    })
    sayWhere(served, scenario, recordings)
    let patience: NodeJS.Timeout | null = null
    void served.asked.then(() => {
      patience = setTimeout(() => tested === 0 && served.nextPart('plan'), patienceMs)
    })
    await stop
    if (patience !== null) clearTimeout(patience)
    ignore()
    served.stop()
  } finally {
    if (out === undefined) await rm(folder, { recursive: true, force: true })
  }
  return 0
}

/** A program that asks the instruments for so long without a recording that the hand could read keeps it elsewhere, ms. */
const patienceMs = 10_000

/** Where the instruments are, and the command that tests the part on them. */
function sayWhere(served: Served, { title, plan }: Scenario, recordings: string): void {
  print(`${title} Its instruments wait here:`)
  for (const [port, path] of Object.entries(served.paths)) print(`  ${port.padEnd(10)} ${path}`)
  print('In another terminal, type:')
  const { preconditioning } = plan
  const strokes = preconditioning === usualPlan.preconditioning ? '' : ` --precondition ${preconditioning}`
  print(`  ${programName()} run --part ${quote(served.partFile)} --rig ${quote(served.rigFile)}${strokes}`)
  print(`The simulated hand does what the screen says: it reads the marks of the recordings in ${recordings}.`)
  print(
    'It waits for the cautions, and takes a new part for each test; with another --data-dir it goes by a plan of its own.',
  )
  print('Ctrl-C ends it.')
}

/** How this program was started, so that the line printed can be typed as it is. */
function programName(): string {
  const path = process.argv[1] ?? 'makebreak'
  return basename(path).startsWith('makebreak') ? 'makebreak' : `node ${quote(path)}`
}

/** A path as one word of a shell. */
function quote(path: string): string {
  return /^[\w./:\\-]+$/.test(path) ? path : `'${path.replaceAll("'", "'\\''")}'`
}
