// What was seen of the ports of each rig, in a file of the user's own: read, kept and forgotten, rig by rig.
import { mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { dirname } from 'node:path'
import { z } from 'zod'
import type { Adapter } from '../ports/adapter.ts'

/** By the name of an instrument's port: the path that the rig names, and the adapter that was right for it. */
export type SeenPorts = Readonly<Record<string, { path: string; adapter: Adapter }>>

const text = z.string().max(300)
const seenSchema = z.record(
  text,
  z.object({
    path: text,
    adapter: z.object({ vendor: text, product: text, serial: text.nullable(), position: text.nullable() }),
  }),
)
const onForSchema = z.record(text, z.number().positive())
const fileSchema = z.object({ rigs: z.record(text, seenSchema), onForS: z.record(text, onForSchema).default({}) })

/** Of the rig that `rig` names; nothing where the file is not there or holds something else. */
export async function readSeenPorts(file: string, rig: string): Promise<SeenPorts> {
  return (await readAll(file)).rigs[rig] ?? {}
}

/** By the name of an instrument's port: how long it stayed on before it fell silent by itself, s. */
export type OnForS = Readonly<Record<string, number>>

export async function readOnForS(file: string, rig: string): Promise<OnForS> {
  return (await readAll(file)).onForS[rig] ?? {}
}

/** Keeps `onForS` of a rig in place of what was kept. */
export async function keepOnForS(file: string, rig: string, onForS: OnForS): Promise<void> {
  const all = await readAll(file)
  await writeAll(file, { ...all, onForS: changed(all.onForS, rig, onForS) })
}

/** Keeps `seen` of a rig, null: forgets it. Where the file cannot be written nothing is remembered, and nothing else is lost. */
export async function keepSeenPorts(file: string, rig: string, seen: SeenPorts | null): Promise<void> {
  const all = await readAll(file)
  await writeAll(file, { ...all, rigs: changed(all.rigs, rig, seen ?? {}) })
}

type Memory = z.infer<typeof fileSchema>

/** `of` with `now` for this rig; a rig of which nothing is kept is left out. */
function changed<T extends object>(of: Readonly<Record<string, T>>, rig: string, now: T): Record<string, T> {
  const { [rig]: _, ...others } = of
  return Object.keys(now).length === 0 ? others : { ...others, [rig]: now }
}

async function readAll(file: string): Promise<Memory> {
  const json = await readFile(file, 'utf8')
    .then(JSON.parse)
    .catch(() => null)
  const checked = fileSchema.safeParse(json)
  return checked.success ? checked.data : { rigs: {}, onForS: {} }
}

async function writeAll(file: string, now: Memory): Promise<void> {
  if (JSON.stringify(now) === JSON.stringify(await readAll(file))) return
  const part = `${file}.${process.pid}.part`
  try {
    await mkdir(dirname(file), { recursive: true })
    await writeFile(part, `${JSON.stringify(now, null, 2)}\n`)
    await rename(part, file)
  } catch {
    await rm(part, { force: true }).catch(() => {})
  }
}
