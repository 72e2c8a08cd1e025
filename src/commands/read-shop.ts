// The settings of the shop in the user's folder: what reports and tags have of it. A mistake in them is one sentence.
import { open } from 'node:fs/promises'
import { dirname, resolve } from 'node:path'
import { fieldsOf } from '../core/model/fields.ts'
import { type Shop, shopFileSchema, shopOf } from '../core/model/shop.ts'
import { Problem } from '../errors.ts'
import { decodePng, shrink } from '../report/decode-png.ts'
import type { Logo } from '../report/model/report.ts'
import { userFolders } from '../user-folders.ts'
import { describeIssue } from './describe-issue.ts'
import { readJsonFile } from './read-json-file.ts'

/** The settings in the file at `path`, that of the user where it is left out; where there is none, nothing is stated. */
export async function readShop(path: string = userFolders().shop): Promise<Shop> {
  const json = await readJsonFile('settings', path).catch((error) => {
    if (error instanceof Problem && error.code === 'file-missing') return {}
    throw error
  })
  const parsed = shopFileSchema.safeParse(json)
  if (parsed.success) return shopOf(parsed.data)
  const place = { fields: fieldsOf(shopFileSchema), inFile: true }
  const told = parsed.error.issues.slice(0, 3).map((issue) => describeIssue(issue, json, place))
  throw new Problem('settings-invalid', `${path}: ${told.join('; ')}.`)
}

/** A larger file is a photograph. */
const mostBytes = 500_000

/** In print, at 300 dpi, a logo is no larger than 50 × 15 mm: pixels beyond that only make every report larger. */
const printed = { width: 600, height: 180 } as const

/** The logo that `shop` names, a relative path from the folder of its settings; null where it names none. */
export async function readLogo({ logo }: Shop, settings: string = userFolders().shop): Promise<Logo | null> {
  if (logo === null) return null
  const path = resolve(dirname(settings), logo)
  const png = await bytesOf(path)
  const picture = decodePng(png)
  if ('why' in picture) throw new Problem('settings-invalid', `The logo ${path} ${picture.why}.`)
  return { picture: shrink(picture, printed.width, printed.height), png }
}

async function bytesOf(path: string): Promise<Buffer> {
  const refuse = (what: string) => new Problem('settings-invalid', `The logo ${path} ${what}.`)
  const file = await open(path, 'r').catch((error: NodeJS.ErrnoException) => {
    throw refuse(error.code === 'ENOENT' ? 'is not there' : `cannot be read (${error.code ?? error.message})`)
  })
  try {
    const found = await file.stat()
    if (!found.isFile()) throw refuse('is not a file')
    if (found.size > mostBytes) throw refuse(`has ${found.size} bytes; it must have at most ${mostBytes}`)
    return await file.readFile()
  } finally {
    await file.close()
  }
}

/** The settings of the user with the logo in place of its path: all that a report has of them. */
export async function readReportShop(): Promise<Omit<Shop, 'logo'> & { logo: Logo | null }> {
  const shop = await readShop()
  return { ...shop, logo: await readLogo(shop) }
}
