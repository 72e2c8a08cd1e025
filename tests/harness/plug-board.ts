// A folder that looks like the system's own files of its serial adapters, to plug made-up ones into.
import { mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { DeviceFolders } from '../../src/ports/present-ports.ts'

export type PlugBoard = DeviceFolders & {
  /** An adapter under `name` at a plug such as `1.2`, with the given serial number, or none. */
  plug(name: string, plug: string, serial: string | null): void
  unplug(name: string): void
}

/** An empty one in `folder`; its devices are looked for there too. */
export function createPlugBoard(folder: string): PlugBoard {
  const classes = join(folder, 'class')
  mkdirSync(classes, { recursive: true })
  return {
    devices: folder,
    classes,
    plug(name, plug, serial) {
      const top = join(folder, 'sys/pci0000:00/0000:00:14.0/usb1/1-1', `1-${plug}`)
      const device = join(top, `1-${plug}:1.0`, name)
      mkdirSync(device, { recursive: true })
      for (const [file, text] of Object.entries({ idVendor: '1a86', idProduct: '7523', ...(serial && { serial }) }))
        writeFileSync(join(top, file), `${text}\n`)
      mkdirSync(join(classes, name))
      symlinkSync(device, join(classes, name, 'device'))
    },
    unplug: (name) => rmSync(join(classes, name), { recursive: true }),
  }
}
