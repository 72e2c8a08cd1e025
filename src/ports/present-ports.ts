// The serial adapters that are plugged in now, as the system knows them: path, maker, product, serial number and plug.
import { readdir, readFile, realpath } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import type { Adapter, PresentPort } from './adapter.ts'

/** Where Linux keeps its devices, and what it knows of each. */
export type DeviceFolders = { devices: string; classes: string }

const linuxFolders: DeviceFolders = { devices: '/dev', classes: '/sys/class/tty' }

/** Every port that the system lists, sorted by path. Never rejects: what cannot be listed is not there. */
export async function presentPorts(folders: DeviceFolders | null = systemFolders()): Promise<PresentPort[]> {
  const ports = folders === null ? await listed() : await linuxPorts(folders)
  return ports.toSorted((a, b) => a.path.localeCompare(b.path, 'en', { numeric: true }))
}

function systemFolders(): DeviceFolders | null {
  return process.platform === 'linux' ? linuxFolders : null
}

/** From the system's files: its lister takes a tenth of a second, is not there everywhere, and does not know the plug. */
async function linuxPorts({ devices, classes }: DeviceFolders): Promise<PresentPort[]> {
  const names = await readdir(classes).catch(() => [])
  const found = await Promise.all(
    names.map(async (name) => ({
      path: join(devices, name),
      adapter: await usbAdapter(join(classes, name, 'device')),
    })),
  )
  return found.filter(({ adapter }) => adapter !== null)
}

/** The adapter on USB that the device in `folder` belongs to; null for any other. */
async function usbAdapter(folder: string): Promise<Adapter | null> {
  const device = await realpath(folder).catch(() => null)
  // Such as /sys/devices/pci0000:00/0000:00:14.0/usb1/1-1/1-1.2/1-1.2:1.0/ttyUSB0: controller, buses, plug and interface.
  const place = /^.*\/([^/]+)\/usb\d+\/(?:.*\/)?\d+-([\d.]+:\d+\.\d+)(?=\/|$)/.exec(device ?? '')
  if (device === null || place === null) return null
  const [face, controller, plug] = place
  const top = dirname(face)
  const [vendor, product, serial, within] = await Promise.all(
    [join(top, 'idVendor'), join(top, 'idProduct'), join(top, 'serial'), join(device, 'port_number')].map(textOf),
  )
  if (!vendor || !product) return null
  const port = within && within !== '0' ? ` port ${within}` : ''
  return { vendor, product, serial: serial || null, position: `${controller} ${plug}${port}` }
}

const textOf = (file: string) =>
  readFile(file, 'utf8').then(
    (text) => text.trim(),
    () => null,
  )

/** From the lister of the serial library, for systems without such files. */
async function listed(): Promise<PresentPort[]> {
  const { SerialPort } = await import('serialport')
  const found = await SerialPort.list().catch(() => [])
  return found.map(({ path, vendorId, productId, serialNumber, locationId, pnpId }) => {
    if (!vendorId || !productId) return { path, adapter: null }
    const serial = serialNumber || null
    // Without a serial number Windows makes the last part of this name from the plug.
    return { path, adapter: { vendor: vendorId, product: productId, serial, position: locationId || pnpId || null } }
  })
}
