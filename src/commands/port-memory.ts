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
const fileSchema = z.object({ rigs: z.record(text, seenSchema) })

/** Of the rig that `rig` names; nothing where the file is not there or holds something else. */
export async function readSeenPorts(file: string, rig: string): Promise<SeenPorts> {
  return (await readAll(file))[rig] ?? {}
}

/** Keeps `seen` of a rig, null: forgets it. Where the file cannot be written nothing is remembered, and nothing else is lost. */
export async function keepSeenPorts(file: string, rig: string, seen: SeenPorts | null): Promise<void> {
  const { [rig]: before, ...others } = await readAll(file)
  const nothing = seen === null || Object.keys(seen).length === 0
  if (nothing && before === undefined) return
  const rigs = nothing ? others : { ...others, [rig]: seen }
  const part = `${file}.${process.pid}.part`
  try {
    await mkdir(dirname(file), { recursive: true })
    await writeFile(part, `${JSON.stringify({ rigs }, null, 2)}\n`)
    await rename(part, file)
  } catch {
    await rm(part, { force: true }).catch(() => {})
  }
}

async function readAll(file: string): Promise<Record<string, SeenPorts>> {
  const json = await readFile(file, 'utf8')
    .then(JSON.parse)
    .catch(() => null)
  const checked = fileSchema.safeParse(json)
  return checked.success ? checked.data.rigs : {}
}
