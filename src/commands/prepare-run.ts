// Options and the user's folders into all that a test needs: part, rig, ports, and where its recording goes.
import { join, resolve } from 'node:path'
import type { Conditions } from '../core/model/conditions.ts'
import type { Part } from '../core/model/part.ts'
import type { Purpose } from '../core/model/purposes.ts'
import { portNames, type Rig, rigPorts, wiredPorts } from '../core/model/rig.ts'
import { type DriverFacts, resolveOptions, wireOf } from '../driver.ts'
import { Problem } from '../errors.ts'
import { digestOf } from '../load-drivers.ts'
import type { StartFields } from '../recording/append.ts'
import { createRunId } from '../recording/run-id.ts'
import { recordingName } from '../recording-name.ts'
import { findScenario } from '../simulation/find-scenario.ts'
import { type Scenario, withPaths } from '../simulation/scenario.ts'
import { isSimulatedPath, parseSimulatedPath, simulatedPath } from '../simulation/wire.ts'
import type { AcquisitionPlan, PortPlan } from '../source/acquire.ts'
import { userFolders } from '../user-folders.ts'
import { readVersion } from '../version.ts'
import { type FoundRig, findRigPorts, portsNameOf } from './find-rig-ports.ts'
import { findTagged } from './find-tagged.ts'
import { listSetups } from './list-setups.ts'
import { makeFolder } from './make-folder.ts'
import { partFrom, readPart, readRigWith, rigFrom } from './read-setup.ts'

export type RunOptions = {
  part?: string
  rig?: string
  dataDir?: string
  plain?: true
  purpose: Purpose
  serial?: string
  operator?: string
  /** Who it is tested for. */
  customer?: string
  order?: string
  /** Cycles to count, and strokes before them; left out: what the rig needs, and the usual. */
  cycles?: number
  /** Strokes in all, in place of `cycles`. */
  strokes?: number
  precondition?: number
  /** Whether the bell rings at first; left out: yes. */
  bell?: boolean
  /** A simulated bench instead of a rig. */
  bench?: { scenario: string; seed: number }
  /** What was stated of the surroundings; a simulated bench states its own where nobody did. */
  conditions?: Conditions
  /** The recorded test that this one follows: its part and its rig, in place of those named. */
  earlier?: Earlier
}

/** `part` and `rig` as recorded, which may hold what no file may. */
export type Earlier = {
  part: unknown
  rig: unknown
  /** Names the recording: one that ended as it should is repeated, any other is continued. */
  named: Pick<StartFields, 'continues' | 'repeats'>
}

export type Prepared = {
  plan: AcquisitionPlan
  /** The simulated bench that the rig leads to, with its seed; null for a real one. */
  bench: { scenario: Scenario; seed: number } | null
  /** What is known of the drivers, those of the rig among them. */
  drivers: ReadonlyMap<string, DriverFacts>
  /** What is to be said of the ports before the test, and what is kept of them after it. */
  ports: Pick<FoundRig, 'said' | 'remember' | 'rememberPower'>
}

/** What is known of the drivers here, for one rig. */
export type DriversOf = (rig: Rig) => Promise<ReadonlyMap<string, DriverFacts>>

/** Bench of the demonstration: a good part, the same each time. */
const demonstration = { scenario: 'good', seed: 1 }
/** A simulated bench that one waits for runs so many times as fast as a real one; the screen says so. */
const brisk = 2
const maxNameChars = 100

/** What `run` needs. Throws a Problem for each thing that is wrong or not stated. The folder of the recording is made. */
export async function prepareRun(options: RunOptions, driversOf: DriversOf): Promise<Prepared> {
  const { rig: stated, drivers } = await chooseRig(options, driversOf)
  const ports = await findRigPorts(portsNameOf(stated, options.rig ?? null), stated, userFolders().ports)
  const { rig } = ports
  const bench = benchOf(rig)
  const part = await choosePart(options, bench?.scenario ?? null)
  const serial = await serialOf(options.serial, part)
  const tested: Part = serial === null ? part : { ...part, serial }
  const folder = resolve(options.dataDir ?? userFolders().recordings)
  await makeFolder(folder, `The folder ${folder} for recordings`)
  const now = new Date()
  const id = createRunId(now.getTime())
  const conditions = options.conditions ?? bench?.scenario.conditions ?? null
  return {
    bench,
    drivers,
    ports,
    plan: {
      file: join(folder, recordingName(now, tested.serial ?? null, id)),
      start: {
        ...{ id, part: tested, rig, conditions, purpose: options.purpose },
        simulated: bench !== null,
        operator: nameOf('--operator', options.operator),
        software: `makebreak ${readVersion()}`,
        ...jobOf(options),
        ...options.earlier?.named,
        ...ownDrivers(rig, drivers),
      },
      ports: portPlans(wiredPorts(rig), drivers).map((port) => {
        const onForS = ports.onForS[port.name]
        return { ...port, adapter: ports.adapters[port.name] ?? null, ...(onForS !== undefined && { onForS }) }
      }),
    },
  }
}

function jobOf({ customer, order }: RunOptions): Pick<StartFields, 'job'> {
  const job = { customer: nameOf('--customer', customer), order: nameOf('--order', order) }
  return job.customer === null && job.order === null ? {} : { job }
}

/** The digests of the user's own drivers among those of `rig`, as the recording states them. */
function ownDrivers(rig: Rig, drivers: ReadonlyMap<string, DriverFacts>): Pick<StartFields, 'drivers'> {
  const digests = rigPorts(rig).flatMap(({ device }): [string, string][] => {
    const driver = drivers.get(device.driver)
    const sha256 = driver ? digestOf(driver) : null
    return sha256 === null ? [] : [[device.driver, sha256]]
  })
  return digests.length === 0 ? {} : { drivers: Object.fromEntries(digests) }
}

async function chooseRig(
  { bench, rig: given, earlier }: RunOptions,
  driversOf: DriversOf,
): Promise<{ rig: Rig; drivers: ReadonlyMap<string, DriverFacts> }> {
  if (earlier) return rigFrom(recordedPlace, earlier.rig, driversOf)
  const { rigs } = userFolders()
  const name = bench ? null : (given ?? onlyOne('rig', await listSetups(rigs), rigs))
  if (name === null) {
    const rig = simulatedRig(bench ?? demonstration)
    return { rig, drivers: await driversOf(rig) }
  }
  return readRigWith(name, rigs, driversOf)
}

/** Where part and rig of an earlier test are read. */
const recordedPlace = 'the first line of the earlier recording'

async function choosePart({ part: given, earlier }: RunOptions, scenario: Scenario | null): Promise<Part> {
  const { parts } = userFolders()
  if (earlier) return partFrom(recordedPlace, earlier.part)
  if (given === undefined && scenario !== null) return scenario.part
  const name = given ?? onlyOne('part', await listSetups(parts), parts)
  if (name !== null) return readPart(name, parts)
  throw new Problem('usage', `No part is named and ${parts} holds none: name one with --part FILE.`)
}

/** The one set-up that stands in `folder`; null where none does. */
function onlyOne(kind: 'part' | 'rig', names: readonly string[], folder: string): string | null {
  if (names.length < 2) return names[0] ?? null
  throw new Problem('usage', `${folder} holds ${names.length} ${kind}s (${names.join(', ')}): name one with --${kind}.`)
}

/** The rig of a simulated bench, its ports leading to it. */
function simulatedRig({ scenario, seed }: { scenario: string; seed: number }): Rig {
  const path = simulatedPath(scenario, seed, brisk, 'screen')
  return withPaths(findScenario(scenario, seed), Object.fromEntries(portNames.map((name) => [name, path]))).rig
}

/** The bench that a rig's simulated paths name; one simulated instrument beside a real one is refused. */
function benchOf(rig: Rig): Prepared['bench'] {
  const paths = wiredPorts(rig).map(({ device }) => device.port?.path ?? '')
  const simulated = paths.filter(isSimulatedPath)
  if (simulated.length === 0) return null
  if (new Set(paths).size > 1)
    throw new Problem('rig-invalid', `The ports ${paths.join(' and ')} are not of one simulated bench.`)
  const { name, seed } = parseSimulatedPath(paths[0] ?? '')
  return { scenario: findScenario(name, seed), seed }
}

/** The devices of a rig as the recording process opens them. Throws a Problem for a driver or a path that is not there. */
export function portPlans(devices: ReturnType<typeof rigPorts>, drivers: ReadonlyMap<string, DriverFacts>): PortPlan[] {
  return devices.map(({ name, device }) => {
    const driver = drivers.get(device.driver)
    if (!driver)
      throw new Problem('driver-unknown', `The ${name} needs the driver "${device.driver}", which is not here.`)
    const { path, baudRate, dataBits, parity, stopBits } = device.port ?? {}
    if (!path)
      throw new Problem(
        'rig-invalid',
        `${name}.port.path is missing; it must name the port, such as /dev/ttyUSB0 or COM3.`,
      )
    const settings = {
      baudRate: baudRate ?? driver.serial.baudRate,
      dataBits: dataBits ?? driver.serial.dataBits,
      parity: parity ?? driver.serial.parity,
      stopBits: stopBits ?? driver.serial.stopBits,
    }
    return { name, path, settings, wire: wireOf(driver, resolveOptions(driver, device.options)) }
  })
}

/** The serial number that was given; where that is a scanned tag, or the number of a report, that of its part. */
async function serialOf(given: string | undefined, { model = null }: Part): Promise<string | null> {
  const text = nameOf('--serial', given)
  const tagged = text === null ? null : await findTagged(text, userFolders())
  if (tagged === null) return text
  const { part } = tagged.glance.start
  if ((part.model ?? null) === model) return part.serial ?? null
  throw new Problem(
    'usage',
    `This tag is of a part ${part.model ?? 'without a model'}, and ${model ?? 'a part without a model'} is to be tested.`,
  )
}

function nameOf(option: string, given: string | undefined): string | null {
  const text = given?.trim() ?? ''
  if (text.length <= maxNameChars) return text === '' ? null : text
  throw new Problem('usage', `${option} has ${text.length} characters; it may have ${maxNameChars}.`)
}
