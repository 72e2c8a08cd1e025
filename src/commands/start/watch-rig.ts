// The instruments of a rig, as the form has them, opened by the recording process into a file that is thrown away: what they send, and what it proves.

import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { initialRun, type Run, step } from '../../core/intake/run.ts'
import { eventBytes, type RecordedEvent } from '../../core/model/event.ts'
import type { Part } from '../../core/model/part.ts'
import { type PortName, type Rig, type RigPort, rigFileSchema, rigPorts } from '../../core/model/rig.ts'
import { isInRange } from '../../core/model/samples.ts'
import { type PressureUnit, pressureUnits } from '../../core/model/units.ts'
import { checkRig, type RigCheck } from '../../core/signal/rig-check.ts'
import { numberText } from '../../core/text/pressure-text.ts'
import { readingText } from '../../core/text/reading-text.ts'
import { Problem } from '../../errors.ts'
import { createReader } from '../../recording/read.ts'
import { createRunId } from '../../recording/run-id.ts'
import { runSession } from '../../session.ts'
import { isSimulatedPath } from '../../simulation/wire.ts'
import { follow } from '../../source/follow.ts'
import type { Json } from '../../terminal/screens/form-json.ts'
import { createRigView, type Heard, type RigViewAsk, type RigViewState } from '../../terminal/screens/rig-view.ts'
import { readVersion } from '../../version.ts'
import { portMistake } from '../port-mistake.ts'
import { portPlans } from '../prepare-run.ts'
import type { DriverDesk } from './desk.ts'

const tickMs = 100
const keptPieces = 12
const keptSamples = 6000

/** Nothing is tested: the recording's first line has to name some part. */
const noPart: Part = { model: 'rig check', kind: 'draft-proving', rated: { value: 100, unit: 'Pa', on: 'make' } }

/** What was proved and is to be taken into the form. */
export type Proved = { suctionSign: 1 | -1; digit: { value: number; unit: string } | null }

/** Shows what the instruments of `json` send until that is left; what was proved, null where nothing is to be taken over. */
export async function watchRig({ host, drivers, findDecode }: DriverDesk, json: Json): Promise<Proved | null> {
  const rig = rigToWatch(json)
  // An instrument that no port is named for yet is left out.
  const plans = portPlans(
    rigPorts(rig).filter(({ device }) => device.port?.path),
    drivers,
  )
  const folder = await mkdtemp(join(tmpdir(), 'makebreak-rig-'))
  const now = new Date()
  const following = follow(
    {
      file: join(folder, 'rig.run'),
      start: {
        ...{ id: createRunId(now.getTime()), part: noPart, rig, purpose: 'free', operator: null, conditions: null },
        ...{ simulated: plans.some(({ path }) => isSimulatedPath(path)), software: `makebreak ${readVersion()}` },
      },
      ports: plans,
    },
    createReader(),
  )
  const ears = createEars(rig, findDecode)
  let run: Run = initialRun(findDecode)
  let fromUs = 0
  let failed: unknown = null
  const view = (): RigViewState => ({
    ports: plans.map(({ name, path, settings, wire }) => {
      const port = run.ports.find((each) => each.name === name)
      const [first = 0, ...rest] = port?.recentUs ?? []
      const last = rest.at(-1) ?? first
      return {
        ...{
          name,
          where: `${path} ${settings.baudRate} baud`,
          link: port?.link ?? 'waiting',
          faults: port?.faults ?? 0,
        },
        ...{ readingsPerS: last > first ? (rest.length * 1e6) / (last - first) : null, heard: ears.heard(name) },
        ...{ asked: wire.poll.length > 0, quietS: ears.quietS(name, run.tUs) },
      }
    }),
    check: check(run, fromUs, ears.digitPa()),
    unit: ears.unit(),
    digitPa: ears.digitPa(),
  })
  try {
    const proved = await host.show<RigViewState, RigViewAsk, Proved | 'nothing'>(
      createRigView('Rig: what the instruments send'),
      view(),
      (ask, hands) => {
        const { sign } = hands.now().check
        if (ask === 'again') fromUs = run.tUs
        else if (ask === 'take' && sign) hands.leave({ suctionSign: sign.value, digit: ears.digit() })
        else hands.leave('nothing')
      },
      (hands) => {
        const tick = setInterval(() => hands.change(view), tickMs)
        runSession({
          source: following.batches,
          initial: run,
          step: (state: Run, event: RecordedEvent) => {
            ears.hear(event)
            return step(state, event)
          },
          publish: (state) => {
            run = state
          },
        }).then(
          () => hands.leave('nothing'),
          (error) => {
            failed = error
            hands.leave('nothing')
          },
        )
        return () => clearInterval(tick)
      },
    )
    following.finish('abandoned')
    following.sendVerdict(null)
    const fault = failed ?? (await following.exited)
    if (fault !== null && proved === 'nothing') throw fault
    return proved === 'nothing' ? null : proved
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

function check(run: Run, fromUs: number, digitPa: number): RigCheck {
  const { pressure } = run
  const samples = pressure.slice(pressure.length - keptSamples).filter((s) => isInRange(s.rawPa))
  return checkRig(
    samples.map(({ tUs, rawPa }) => ({ tUs, pressurePa: rawPa })),
    fromUs,
    digitPa,
  )
}

/** Drivers, ports and options of the form; the rest as it must be for readings to come as they are displayed. */
function rigToWatch(json: Json): Rig {
  const device = (at: string) => {
    const { driver, options, port } = (json[at] ?? {}) as Json
    return { driver, ...(options ? { options } : {}), ...(port ? { port } : {}) }
  }
  const manometer = { suctionSign: 1, digit: { value: 1, unit: 'Pa' } }
  const first = json['bridge']
    ? { name: 'rig check', bridge: { ...device('bridge'), ...manometer, pair: 'com-no' } }
    : {
        name: 'rig check',
        manometer: { ...device('manometer'), ...manometer },
        meter: { ...device('meter'), pair: 'com-no' },
      }
  const accuracy = { ofReading: 0, ofFullScale: 0, fullScale: manometer.digit }
  const second = { ...device('manometer-2'), ...manometer, accuracy }
  const rig = { ...first, ...(json['manometer-2'] ? { 'manometer-2': second } : {}) }
  const checked = rigFileSchema.safeParse(rig)
  const shared = checked.success ? portMistake(checked.data) : null
  if (shared !== null) throw new Problem('rig-invalid', `${shared.text}.`)
  if (checked.success) return checked.data
  throw new Problem('rig-invalid', 'Drivers, ports and options are not filled in well enough to open the instruments.')
}

/** Keeps the last pieces of each port with what its driver makes of them, and the unit and digit of the pressures. */
function createEars(rig: Rig, findDecode: DriverDesk['findDecode']) {
  const ports = new Map(
    rigPorts(rig).map(({ name, device }) => [
      name,
      {
        ...{ decode: findDecode(name, device as RigPort), memory: null as unknown },
        ...{ heard: [] as Heard[], sinceUs: null as number | null },
      },
    ]),
  )
  let digitPa = 0
  let unit: PressureUnit = 'Pa'
  return {
    digitPa: () => digitPa,
    unit: () => unit,
    digit: () => (digitPa > 0 ? { value: Number(numberText(digitPa, unit, { upTo: 6 })), unit } : null),
    heard: (name: PortName) => ports.get(name)?.heard.slice() ?? [],
    quietS(name: PortName, nowUs: number) {
      const sinceUs = ports.get(name)?.sinceUs ?? null
      return sinceUs === null ? null : (nowUs - sinceUs) / 1e6
    },
    hear(event: RecordedEvent) {
      const linked = event.type === 'link' ? ports.get(event.port) : undefined
      if (event.type === 'link' && linked) {
        linked.memory = null
        linked.sinceUs = event.state === 'lost' ? null : event.t
      }
      const port = event.type === 'rx' || event.type === 'tx' ? ports.get(event.port) : undefined
      if ((event.type !== 'rx' && event.type !== 'tx') || !port) return
      const bytes = eventBytes(event)
      const way = event.type === 'tx' ? 'sent' : 'received'
      const { readings, faults, memory } = port.decode(port.memory, bytes, way)
      port.memory = memory
      if (way === 'sent') return
      port.sinceUs = event.t
      for (const reading of readings)
        if (reading.quantity === 'pressure' && event.port !== 'manometer-2') {
          if (reading.unit in pressureUnits) unit = reading.unit as PressureUnit
          // The finest that was shown: a display drops digits at large values.
          if (reading.digit && (digitPa === 0 || reading.digit < digitPa)) digitPa = reading.digit
        }
      const read = [...readings.map(readingText), ...faults.map(({ text }) => text)].join(', ')
      port.heard.push({ raw: bytes, read: read || '…', bad: faults.length > 0 })
      if (port.heard.length > keptPieces) port.heard.shift()
    },
  }
}
