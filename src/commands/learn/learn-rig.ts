// `rig learn`: instruments that nothing is known of, at their ports, into a rig file, or into their part of one.
import { stat } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import type { Driver, Role } from '../../driver.ts'
import { Problem } from '../../errors.ts'
import type { Candidate } from '../../learn/candidates.ts'
import { loadDrivers } from '../../load-drivers.ts'
import { userFolders } from '../../user-folders.ts'
import { rigMistakes } from '../check-setup.ts'
import { findPorts } from '../find-ports.ts'
import { openLine } from '../open-line.ts'
import { print, printWords } from '../print.ts'
import { nameMistake, saveSetup, setupText } from '../save-setup.ts'
import { openSetup } from '../start/open-setup.ts'
import { type Answers, openAnswers } from './answers.ts'
import { tellFound } from './confirm.ts'
import { findLine } from './find-line.ts'
import { learnInstrument } from './learn-instrument.ts'

export type LearnOptions = { port?: readonly string[]; rig: string }

type Json = Readonly<Record<string, unknown>>
type RigFile = { folder: string; name: string; given: string; json: Json; before: string | null }

// 128 + SIGINT, as a shell reports it.
const stoppedStatus = 130
/** A manometer and a meter: with more ports nobody knows which are meant. */
const mostPorts = 2

/** Learns the instruments at the ports given, else at those there are; the exit status is 0 once the file is written. */
export async function learnRig({ port: given, rig }: LearnOptions): Promise<number> {
  const file = await openRigFile(rig)
  const paths = given ?? (await portsHere())
  const drivers = await loadDrivers(userFolders().drivers)
  const answers = openAnswers()
  try {
    const work = learnPorts(paths, file, drivers, answers)
    const stopped = answers.stopped.then(() => stoppedStatus)
    // Where it was stopped, nobody waits for what the port still says.
    work.catch(() => {})
    const status = await Promise.race([work, stopped])
    if (status === stoppedStatus) print('\nStopped. Nothing more was written.')
    return status
  } finally {
    answers.end()
  }
}

async function portsHere(): Promise<string[]> {
  const { ports } = await findPorts()
  const paths = ports.map(({ path }) => path)
  if (paths.length === 0)
    throw new Problem('port-absent', 'No serial port found.', 'Plug the adapter in, or name a port with --port.')
  if (paths.length <= mostPorts) return paths
  throw new Problem(
    'usage',
    `There are ${paths.length} ports (${paths.join(', ')}): name those of the instruments with --port.`,
  )
}

async function openRigFile(given: string): Promise<RigFile> {
  const isPath = basename(given) !== given || given.endsWith('.json')
  const folder = isPath ? dirname(given) : userFolders().rigs
  const name = basename(given, '.json')
  const mistake = nameMistake(name)
  if (mistake !== null) throw new Problem('usage', mistake)
  const isThere = await stat(join(folder, `${name}.json`)).catch(() => null)
  const { base, before } = await openSetup('rig', folder, isThere === null ? null : name)
  return { folder, name, given, json: base, before }
}

async function learnPorts(
  paths: readonly string[],
  file: RigFile,
  drivers: ReadonlyMap<string, Driver>,
  answers: Answers,
): Promise<number> {
  let now = file
  for (const path of paths) now = await learnPort(path, now, [...drivers.values()], answers)
  print('')
  const mistakes = rigMistakes(now.json, drivers)
  const missing = ['manometer', 'meter'].filter((name) => !(name in now.json) && !('bridge' in now.json))
  if (missing.length > 0)
    printWords(`Next: makebreak rig learn --port PORT --rig ${now.given} for the ${missing.join(' and the ')}.`)
  else for (const { text } of mistakes) printWords(`${now.name}.json: ${text}`)
  if (missing.length === 0 && mistakes.length === 0) print(`Next: makebreak run --rig ${now.given} --part PART`)
  return 0
}

/** Learns the instrument at one port and writes it into the file. */
async function learnPort(path: string, file: RigFile, drivers: readonly Driver[], answers: Answers): Promise<RigFile> {
  printWords(`${path}: listening and, where nothing comes, asking. It takes up to two minutes; Ctrl-C ends it.`)
  const line = await openLine(path, { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 })
  void answers.stopped.then(line.close)
  try {
    const candidates = await findLine(line, drivers, path, (text) => print(`  ${text}`))
    await line.set(candidates[0]!.settings)
    const role = await roleOf(candidates, file, answers)
    await agreeToReplace(file, role, answers)
    tellFound(
      candidates.filter((candidate) => candidate.role === role),
      await sampleOf(line, candidates),
    )
    const instrument = await learnInstrument(line, path, candidates, role, answers)
    const json = { ...file.json, [role]: instrument }
    const written = await saveSetup(file.folder, file.name, json, file.before)
    printWords(`Written: the ${role === 'bridge' ? 'board' : role} into ${written}.`)
    return { ...file, json, before: setupText(json) }
  } finally {
    await line.close()
  }
}

const sampleMs = 1500

/** A little of what the line sends, to be shown. */
async function sampleOf(line: Awaited<ReturnType<typeof openLine>>, [first]: readonly Candidate[]) {
  if (!first?.query) return line.listen(sampleMs)
  return [...(await line.ask(first.query, sampleMs)), ...(await line.ask(first.query, sampleMs))]
}

/**
 * A board that gives both is one. A bare number may be of either instrument: then it is the one that the rig still lacks,
 * which clips or a pull prove right after, or its owner says.
 */
async function roleOf(candidates: readonly Candidate[], { json, name }: RigFile, answers: Answers): Promise<Role> {
  const roles = (['manometer', 'meter', 'bridge'] as const).filter((role) =>
    candidates.some((candidate) => candidate.role === role),
  )
  if (roles.includes('bridge')) return 'bridge'
  const [only, more] = roles
  if (only !== undefined && more === undefined) return only
  const lacking = roles.filter((role) => !(role in json))
  if (lacking.length === 1) {
    printWords(`The line does not say what it measures: it is taken for the ${lacking[0]}, which ${name}.json lacks.`)
    return lacking[0]!
  }
  for (;;) {
    const text = await answers.ask(
      'The line does not say what it measures. Is it a manometer or a meter? [manometer or meter]',
    )
    const named = roles.find((name) => text !== '' && name.startsWith(text.toLowerCase()) && text.length > 1)
    if (named !== undefined) return named
  }
}

/** Asks before what a rig file states is replaced; a board and two instruments do not go together. */
async function agreeToReplace({ json, name }: RigFile, role: Role, answers: Answers): Promise<void> {
  const others = role === 'bridge' ? ['manometer', 'meter'] : ['bridge']
  const other = others.find((each) => each in json)
  if (other !== undefined)
    throw new Problem(
      'usage',
      `${name}.json states a ${other === 'bridge' ? 'board' : other}, which does not go with a ${role === 'bridge' ? 'board' : role}.`,
      'Name another file with --rig; one that is not there yet is made.',
    )
  if (!(role in json)) return
  const text = await answers.ask(
    `${name}.json states a ${role} already. Replace it, with its accuracy and its certificate? [yes or no]`,
  )
  if (!/^y(es)?$/i.test(text))
    throw new Problem('usage', `The ${role} in ${name}.json was left as it is.`, 'Name another file with --rig.')
}
