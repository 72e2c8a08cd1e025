// A rig into the same rig with the ports at which its adapters are plugged in now, and into what is remembered of them.
import { access } from 'node:fs/promises'
import { basename } from 'node:path'
import type { FellSilent } from '../core/guide/fell-silent.ts'
import { type PortName, type Rig, rigFileSchema, wiredPorts } from '../core/model/rig.ts'
import { Problem } from '../errors.ts'
import type { Adapter, PresentPort } from '../ports/adapter.ts'
import { choosePorts } from '../ports/choose-ports.ts'
import { presentPorts } from '../ports/present-ports.ts'
import { isSimulatedPath } from '../simulation/wire.ts'
import { userFolders } from '../user-folders.ts'
import { keepOnForS, keepSeenPorts, type OnForS, readOnForS, readSeenPorts, type SeenPorts } from './port-memory.ts'

export type FoundRig = {
  /** With the paths that are opened. */
  rig: Rig
  /** The adapter of each instrument's port, by its name; those that nothing tells from others are left out. */
  adapters: Readonly<Record<string, Adapter>>
  /** What is said of ports that are not as they were. */
  said: string[]
  /** How long each instrument stayed on in an earlier test before it fell silent by itself. */
  onForS: OnForS
  /** Keeps what is at the ports as right for this rig, or forgets what was kept of it. */
  remember(right: boolean): Promise<void>
  /** Keeps which instruments fell silent by themselves in a test of `lastedS`. */
  rememberPower(fell: readonly FellSilent[], lastedS: number): Promise<void>
}

/** Looks for the ports of `rig`, kept as `name` in `file`. Throws a Problem where an adapter is not plugged in or not told from others. */
export async function findRigPorts(
  name: string,
  rig: Rig,
  file: string,
  list: () => Promise<PresentPort[]> = presentPorts,
): Promise<FoundRig> {
  const named = serialPortsOf(rig)
  const nothing = async () => {}
  if (named.length === 0) return { rig, adapters: {}, said: [], onForS: {}, remember: nothing, rememberPower: nothing }
  const [present, seen, onForS] = await Promise.all([list(), readSeenPorts(file, name), readOnForS(file, name)])
  const wanted = await Promise.all(
    named.map(async (port) => ({ ...port, exists: await isThere(port.path, present), adapter: seenAt(seen, port) })),
  )
  const chosen = choosePorts(wanted, present).map((choice, i) => {
    if (choice.path === null)
      throw new Problem(choice.why === 'absent' ? 'port-absent' : 'port-unclear', choice.text, choice.next)
    const adapter = present.find(({ path }) => path === choice.path)?.adapter ?? null
    return { ...choice, ...wanted[i]!, now: choice.path, adapter }
  })
  const told = chosen.flatMap((each) => (each.adapter === null ? [] : [{ ...each, adapter: each.adapter }]))
  const right = Object.fromEntries(told.map(({ name: port, path, adapter }) => [port, { path, adapter }]))
  const moved = chosen.map(({ name: port, now }) => [port, { ...rig[port], port: { ...rig[port]?.port, path: now } }])
  return {
    rig: { ...rig, ...(Object.fromEntries(moved) as Partial<Rig>) },
    adapters: Object.fromEntries(told.map((each) => [each.name, each.adapter])),
    said: chosen.flatMap(({ said }) => said ?? []),
    onForS,
    rememberPower: (fell, lastedS) => keepOnForS(file, name, learnedOnForS(onForS, fell, lastedS)),
    remember: (isRight) => keepSeenPorts(file, name, isRight ? right : null),
  }
}

/** One that has stayed on for so much longer does not switch itself off any more (shop rule). */
const staysOnShare = 1.25

/** How long each stays on, by what was known and by what a test of `lastedS` has shown. */
export function learnedOnForS(before: OnForS, fell: readonly FellSilent[], lastedS: number): OnForS {
  const kept = Object.entries(before).filter(([, onForS]) => lastedS < staysOnShare * onForS)
  return Object.fromEntries([...kept, ...fell.map(({ name, afterS }) => [name, afterS])])
}

/** Keeps what is now at the ports of a rig that was saved as the file `name`; of a path that is named as before, what was known. */
export async function keepSavedPorts(
  name: string,
  json: object,
  file: string = userFolders().ports,
  list: () => Promise<PresentPort[]> = presentPorts,
): Promise<void> {
  const { data: rig } = rigFileSchema.safeParse(json)
  if (!rig) return
  const key = portsNameOf(rig, name)
  const [present, before] = await Promise.all([list(), readSeenPorts(file, key)])
  const seen = serialPortsOf(rig).flatMap(({ name: port, path }) => {
    const adapter = seenAt(before, { name: port, path }) ?? present.find((each) => each.path === path)?.adapter
    return adapter ? [[port, { path, adapter }]] : []
  })
  await keepSeenPorts(file, key, Object.fromEntries(seen) as SeenPorts)
}

/** The name by which the ports of a rig are kept: its own, else that of its file. */
export function portsNameOf(rig: Rig, given: string | null): string {
  return rig.name ?? basename(given ?? '', '.json')
}

function serialPortsOf(rig: Rig): { name: PortName; path: string }[] {
  return wiredPorts(rig).flatMap(({ name, device }) => {
    const path = device.port?.path
    return path && !isSimulatedPath(path) ? [{ name, path }] : []
  })
}

/** What was seen at the path that the rig names; whoever named another one since has decided. */
function seenAt(seen: SeenPorts, { name, path }: { name: string; path: string }): Adapter | null {
  const port = Object.hasOwn(seen, name) ? seen[name] : undefined
  return port?.path === path ? port.adapter : null
}

/** Windows names ports that are no files. */
async function isThere(path: string, present: readonly PresentPort[]): Promise<boolean> {
  if (process.platform === 'win32') return present.some((port) => port.path === path)
  return access(path).then(
    () => true,
    () => false,
  )
}
