// A user's driver, in a thread of its own, into one report a case. Nothing else of the driver leaves this thread.
import { setImmediate, setTimeout } from 'node:timers/promises'
import { pathToFileURL } from 'node:url'
import { parentPort } from 'node:worker_threads'
import { errorText } from '../core/text/error-text.ts'
import type { Driver } from '../driver.ts'
import { startHeartbeat } from '../heartbeat.ts'
import { type CaseFault, type ContractCase, conductCases, shapeCase } from './driver-contract.ts'
import type { CheckOrder, CheckReport } from './messages.ts'

const loadLimitS = 5

const { data, beat } = startHeartbeat()
const { file, ...order } = data as CheckOrder
const tell = (report: CheckReport) => parentPort?.postMessage(report)

async function check(): Promise<void> {
  const { driver, fault } = await load()
  if (fault !== null || !(await conduct(shapeCase({ ...order, driver })))) return
  for (const each of conductCases({ ...order, driver: beating(driver), mayImport: [] })) await conduct(each)
}

/** What the file exports as `driver`, whether it is one or not. */
async function load(): Promise<Loaded> {
  const name = 'loads as a module'
  tell({ type: 'begins', name })
  const loaded: Promise<Loaded> = import(pathToFileURL(file).href).then(
    ({ driver }) => ({ driver, fault: null }),
    (error) => notLoaded(`importing it threw ${errorText(error, 160)}`),
  )
  const late = setTimeout(loadLimitS * 1000, notLoaded(`its import has not ended after ${loadLimitS} s`))
  const outcome = await Promise.race([loaded, late])
  tell({ type: 'done', name, fault: outcome.fault })
  return outcome
}

type Loaded = { driver: Driver; fault: null } | { driver: null; fault: CaseFault }

const notLoaded = (what: string): Loaded => ({
  driver: null,
  fault: { what, next: 'Let the file state the driver and do nothing else.' },
})

/** Whether the driver meets the case. */
async function conduct({ name, fault }: ContractCase): Promise<boolean> {
  tell({ type: 'begins', name })
  // What the file has begun beside its import comes out between two turns.
  await setImmediate()
  const found = fault()
  tell({ type: 'done', name, fault: found })
  return found === null
}

/** `driver`, each call of which shows that the thread still answers: so long cases are none that hang. */
function beating(driver: Driver): Driver {
  const decode: Driver['decode'] = (...given) => {
    const decoded = driver.decode(...given)
    beat()
    return decoded
  }
  return Object.create(driver, { decode: { value: decode } })
}

await check()
tell({ type: 'over' })
