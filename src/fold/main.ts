// A recording in progress, in a thread of its own, into what is shown of it: read, folded, assessed, and told at the end.
// A user's own drivers run here and nowhere else during a live test.
import { parentPort } from 'node:worker_threads'
import { bindDrivers } from '../commands/bind-drivers.ts'
import { rigPorts } from '../core/model/rig.ts'
import { describeDriver } from '../described-driver.ts'
import type { Driver } from '../driver.ts'
import { asProblem, Problem } from '../errors.ts'
import { startHeartbeat } from '../heartbeat.ts'
import { digestOf, loadDrivers } from '../load-drivers.ts'
import { createReader } from '../recording/read.ts'
import { type FollowedFile, followFile } from '../source/follow-file.ts'
import { foldLive } from './fold-live.ts'
import type { FoldOrder, FoldReport, LiveTest, ToldProblem } from './messages.ts'

const { ours } = startHeartbeat()
const say = (report: FoldReport) => parentPort?.postMessage(report)
const exited = Promise.withResolvers<Problem | null>()
let drivers: Promise<ReadonlyMap<string, Driver>> | null = null
let file: FollowedFile | null = null
let shown = () => {}

parentPort?.on('message', (order: FoldOrder) => {
  if (order.type === 'describe') void describe(order)
  else if (order.type === 'begin') void begin(order)
  else if (order.type === 'grew') file?.grew()
  else if (order.type === 'shown') shown()
  else {
    exited.resolve(order.died && new Problem(order.died.code, order.died.text))
    file?.ended()
  }
})

/** Loads the user's own drivers and says of each, as data, what a test with the rig needs. */
async function describe({ rig, folder }: Extract<FoldOrder, { type: 'describe' }>): Promise<void> {
  try {
    drivers = loadDrivers(folder, (path) => say({ type: 'loading', file: path }))
    const own = [...(await drivers).values()].filter((driver) => digestOf(driver) !== null)
    const optionsOf = (id: string) =>
      rigPorts(rig).flatMap(({ device }) => (device.driver === id ? [device.options] : []))
    say({ type: 'described', drivers: own.map((driver) => describeDriver(driver, optionsOf(driver.id))) })
  } catch (error) {
    say({ type: 'refused', problem: told(error) })
  }
}

async function begin(test: LiveTest): Promise<void> {
  file = followFile(test.plan.file, createReader())
  const { followed, batches } = file
  const known = drivers ?? loadDrivers()
  try {
    const outcome = await foldLive(test, {
      ...{ batches, followed, exited: exited.promise, findDecode: bindDrivers(await known), ours, say },
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
