// The serial ports of this machine: from the system's lister, or from /dev where the lister is missing.
import { constants } from 'node:fs'
import { access, readdir, readFile, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { SerialPort } from 'serialport'
import { adapterDetails, type PresentPort } from '../ports/adapter.ts'
import { presentPorts } from '../ports/present-ports.ts'

export type FoundPort = {
  path: string
  /** Maker, serial number, product and plug, as far as the adapter states them and the system knows; empty where nothing is known. */
  description: string
  /** What to do where this user may not open it; null where he may. */
  hint: string | null
}

export type FoundPorts = {
  ports: FoundPort[] /** Why the lister gave nothing; null where it worked. */
  lister: string | null
}

type Listed = { path: string; manufacturer?: string | undefined; serialNumber?: string | undefined }
type Lister = () => Promise<Listed[]>

// Names that Linux and macOS give to serial adapters and boards; pseudo-terminals are never listed by either way.
const deviceName = /^(tty(USB|ACM|AMA|XRUSB)\d+|rfcomm\d+|cu\.(?!Bluetooth|debug).+)$/

/** Every port found, sorted by path; `folder` is where device files are, `present` says which adapters are plugged in. Never rejects. */
export async function findPorts(
  folder = '/dev',
  list: Lister = () => SerialPort.list(),
  present = presentPorts,
): Promise<FoundPorts> {
  let lister: string | null = null
  let found: Listed[]
  try {
    found = (await list()).map(({ path, manufacturer, serialNumber }) => ({ path, manufacturer, serialNumber }))
  } catch (error) {
    lister = error instanceof Error ? error.message : String(error)
    found = await scan(folder)
  }
  found.sort((a, b) => a.path.localeCompare(b.path, 'en', { numeric: true }))
  return { ports: await describe(found, await present()), lister }
}

/** The ports at `paths`, listed or not: a pseudo-terminal never is. */
export async function describePorts(paths: readonly string[]): Promise<FoundPorts> {
  const found = paths.map((path) => ({ path }))
  return { ports: await describe(found, await presentPorts()), lister: null }
}

function describe(found: readonly Listed[], present: readonly PresentPort[]): Promise<FoundPort[]> {
  return Promise.all(
    found.map(async ({ path, manufacturer, serialNumber }) => {
      const adapter = present.find((port) => port.path === path)?.adapter ?? null
      const identity = adapter ? adapterDetails(adapter) : serialNumber && `serial ${serialNumber}`
      const description = [manufacturer, identity].filter(Boolean).join(', ')
      return { path, description, hint: await permissionHint(path) }
    }),
  )
}

async function scan(folder: string): Promise<Listed[]> {
  const names = await readdir(folder).catch(() => [])
  return names.filter((name) => deviceName.test(name)).map((name) => ({ path: join(folder, name) }))
}

async function permissionHint(path: string): Promise<string | null> {
  if (process.platform === 'win32') return null
  try {
    await access(path, constants.R_OK | constants.W_OK)
    return null
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EACCES') return null
    const group = await groupName(await stat(path).then((found) => found.gid))
    return `you may not open it: sudo usermod -aG ${group} $USER, then log in again`
  }
}

async function groupName(gid: number): Promise<string> {
  const groups = await readFile('/etc/group', 'utf8').catch(() => '')
  const line = groups.split('\n').find((text) => text.split(':')[2] === String(gid))
  return line?.split(':')[0] ?? 'dialout'
}
