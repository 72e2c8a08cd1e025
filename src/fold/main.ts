// A recording, in a thread of its own, into what is shown of it: read, folded, assessed, and told at the end. A user's own
// drivers run here and nowhere else during a live test, and while a recording is played.
import { parentPort } from 'node:worker_threads'
import { bindDrivers, type FindDecode } from '../commands/bind-drivers.ts'
import { describeReadings } from '../commands/describe-reading.ts'
import { foldRecording } from '../commands/fold-recording.ts'
import { judgedBeside } from '../commands/judge-recording.ts'
import { signatureOfRun } from '../commands/read-evidence.ts'
import { rigPorts } from '../core/model/rig.ts'
import { describeDriver } from '../described-driver.ts'
import type { Driver } from '../driver.ts'
import { asProblem, Problem } from '../errors.ts'
import { nothingButOurs, startHeartbeat } from '../heartbeat.ts'
import { digestOf, loadDrivers } from '../load-drivers.ts'
import { createReader } from '../recording/read.ts'
import { type FollowedFile, followFile } from '../source/follow-file.ts'
import { foldLive } from './fold-live.ts'
import type { AskName, Asks, FoldOrder, FoldReport, LiveTest, ToldProblem } from './messages.ts'
import { openPlay, type Play } from './play.ts'
import { createEars, type Ears } from './rig-ears.ts'

const { ours, beat } = startHeartbeat()
const say = (report: FoldReport) => parentPort?.postMessage(report)
const exited = Promise.withResolvers<Problem | null>()
let drivers: Promise<ReadonlyMap<string, Driver>> | null = null
let file: FollowedFile | null = null
let play: Play | null = null
let ears: Ears | null = null
let shown = () => {}

const answers: { [N in AskName]: (given: Asks[N]['with']) => Asks[N]['gives'] | Promise<Asks[N]['gives']> } = {
  async describe({ rig, folder }) {
    const own = [...(await load(folder)).values()].filter((driver) => digestOf(driver) !== null)
    const optionsOf = (id: string) =>
      rig === null ? [] : rigPorts(rig).flatMap(({ device }) => (device.driver === id ? [device.options] : []))
    return own.map((driver) => describeDriver(driver, [{}, ...optionsOf(driver.id)]))
  },
  reads: async ({ text, asked, folder }) => describeReadings((await load(folder)).values(), text, asked),
  async ears({ rig, folder }) {
    ears = createEars(rig, beating(bindDrivers(await load(folder))))
    return null
  },
  hear({ events }) {
    opened(ears).hear(events)
    return null
  },
  again() {
    opened(ears).again()
    return null
  },
  heard: () => ours(() => opened(ears).view()),
  async judge({ path, folder }) {
    const known = await load(folder)
    const run = await foldRecording(path, beating(bindDrivers(known)))
    return ours(() => judgedBeside(run, known))
  },
  async open({ path, folder }) {
    const known = await load(folder)
    play = await openPlay(path, { drivers: known, findDecode: beating(bindDrivers(known)), ours })
    return play.opened
  },
  look: ({ atS }) => opened(play).look(atS),
  tell: () => opened(play).tell(),
  curve: ({ out }) => opened(play).curve(out),
  drawings: () => opened(play).drawings(),
  report: ({ out }) => opened(play).report(out),
  tag: ({ out }) => opened(play).tag(out),
}

parentPort?.on('message', (order: FoldOrder) => {
  if (order.type === 'ask') void answer(order)
  else if (order.type === 'begin') void begin(order)
  else if (order.type === 'grew') file?.grew()
  else if (order.type === 'shown') shown()
  else {
    exited.resolve(order.died && new Problem(order.died.code, order.died.text))
    file?.ended()
  }
})

async function answer({ id, name, with: given }: Extract<FoldOrder, { type: 'ask' }>): Promise<void> {
  try {
    say({ type: 'answer', id, gives: await (answers[name] as (given: unknown) => Asks[AskName]['gives'])(given) })
  } catch (error) {
    say({ type: 'refused', id, problem: told(error) })
  }
}

/** The drivers, the user's own of `folder` among them where it is given first: each is named before its code runs. */
function load(folder?: string): Promise<ReadonlyMap<string, Driver>> {
  drivers ??= loadDrivers(folder, (path) => say({ type: 'loading', file: path })).then((known) => {
    if ([...known.values()].every((driver) => digestOf(driver) === null)) nothingButOurs()
    return known
  })
  return drivers
}

function opened<T>(what: T | null): T {
  if (what === null) throw new Problem('internal', 'Nothing was opened to be asked about.')
  return what
}

/** The same decoders, each call of which shows that this thread still answers: so a long recording does not count as one that hangs. */
function beating(findDecode: FindDecode): FindDecode {
  return (port, device) => {
    const decode = findDecode(port, device)
    return (...given) => {
      const decoded = decode(...given)
      beat()
      return decoded
    }
  }
}

async function begin(test: LiveTest): Promise<void> {
  const reader = createReader()
  file = followFile(test.plan.file, reader)
  const { followed, batches } = file
  try {
    const findDecode = beating(bindDrivers(await load()))
    const outcome = await foldLive(test, {
      ...{ batches, followed, exited: exited.promise, findDecode, ours, say },
      signature: (run) => signatureOfRun(run, reader.digests()),
      onShown(next) {
        shown = next
      },
    })
    say({ type: 'over', outcome })
  } catch (error) {
    say({ type: 'over', outcome: { fault: told(error), nothingCame: false } })
  }
}

function told(error: unknown): ToldProblem {
  const { code, message } = asProblem(error)
  return { code, text: message }
}
