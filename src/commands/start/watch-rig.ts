// The instruments of a rig, as the form has them, opened by the recording process into a file that is thrown away: what they send, and what it proves.

import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { RecordedEvent } from '../../core/model/event.ts'
import type { Part } from '../../core/model/part.ts'
import { type Rig, rigFileSchema, rigPorts } from '../../core/model/rig.ts'
import { Problem } from '../../errors.ts'
import type { EarsView } from '../../fold/rig-ears.ts'
import { createReader } from '../../recording/read.ts'
import { createRunId } from '../../recording/run-id.ts'
import { isSimulatedPath } from '../../simulation/wire.ts'
import { follow } from '../../source/follow.ts'
import type { Json } from '../../terminal/screens/form-json.ts'
import type { Host } from '../../terminal/screens/host.tsx'
import { createRigView, type RigViewAsk, type RigViewState } from '../../terminal/screens/rig-view.ts'
import { userFolders } from '../../user-folders.ts'
import { readVersion } from '../../version.ts'
import { portMistake } from '../port-mistake.ts'
import { portPlans } from '../prepare-run.ts'
import type { Desk } from './desk.ts'
import { type OpenEars, openEars } from './open-ears.ts'

const tickMs = 100

/** Nothing is tested: the recording's first line has to name some part. */
const noPart: Part = { model: 'rig check', kind: 'draft-proving', rated: { value: 100, unit: 'Pa', on: 'make' } }

/** What was proved and is to be taken into the form. */
export type Proved = { suctionSign: 1 | -1; digit: { value: number; unit: string } | null }

/** Shows what the instruments of `json` send until that is left; what was proved, null where nothing is to be taken over. */
export async function watchRig({ host }: Desk, json: Json): Promise<Proved | null> {
  const rig = rigToWatch(json)
  const ears = await openEars(rig, userFolders().drivers)
  try {
    return await watchWith(host, rig, ears)
  } finally {
    ears.stop()
  }
}

async function watchWith(host: Host, rig: Rig, ears: OpenEars): Promise<Proved | null> {
  // An instrument that no port is named for yet is left out.
  const plans = portPlans(
    rigPorts(rig).filter(({ device }) => device.port?.path),
    ears.drivers,
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
  let failed: unknown = null
  let heard: EarsView | null = null
  /** What is shown of the ports that are open, and what was heard of them. */
  const view = ({ ports, ...rest }: EarsView): RigViewState => ({
    ...rest,
    ports: plans.flatMap(({ name, path, settings, wire }) => {
      const where = `${path} ${settings.baudRate} baud`
      return ports.flatMap((port) => (port.name === name ? [{ ...port, where, asked: wire.poll.length > 0 }] : []))
    }),
  })
  try {
    heard = await ears.view()
    const proved = await host.show<RigViewState, RigViewAsk, Proved | 'nothing'>(
      createRigView('Rig: what the instruments send'),
      view(heard),
      (ask, hands) => {
        const { sign } = hands.now().check
        if (ask === 'again') void ears.again().catch(() => {})
        else if (ask === 'take' && sign) hands.leave({ suctionSign: sign.value, digit: heard?.digit ?? null })
        else hands.leave('nothing')
      },
      (hands) => {
        const fail = (error: unknown) => {
          failed ??= error
          hands.leave('nothing')
        }
        let [asked, isOver] = [false, false]
        const tick = setInterval(() => {
          if (asked) return
          asked = true
          ears.view().then((now) => {
            heard = now
            asked = false
            if (!isOver) hands.change(() => view(now))
          }, fail)
        }, tickMs)
        hearAll(following.batches, ears).then(() => hands.leave('nothing'), fail)
        return () => {
          isOver = true
          clearInterval(tick)
        }
      },
    )
    following.finish('abandoned')
    following.sendVerdict(null)
    const fault = failed ?? (await following.exited)
    if (fault !== null && proved === 'nothing') throw fault
    return proved === 'nothing' ? null : proved
  } finally {
    following.letGo()
    await rm(folder, { recursive: true, force: true })
  }
}

async function hearAll(batches: AsyncIterable<RecordedEvent[]>, ears: OpenEars): Promise<void> {
  for await (const events of batches) await ears.hear(events)
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
