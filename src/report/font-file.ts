// A weight into the path of the font that every PDF carries: in the sources that of its package, in dist/ a copy beside.
import { createRequire } from 'node:module'
import { fileURLToPath } from 'node:url'

export type Weight = 'plain' | 'bold'

/** DejaVu Sans, narrow: an open font with the signs that results need, and Latin, Greek, Cyrillic, Arabic and Hebrew. */
const names: Record<Weight, string> = { plain: 'DejaVuSansCondensed.ttf', bold: 'DejaVuSansCondensed-Bold.ttf' }

export function fontFile(weight: Weight): string {
  const name = names[weight]
  return import.meta.url.endsWith('.ts')
    ? createRequire(import.meta.url).resolve(`dejavu-fonts-ttf/ttf/${name}`)
    : fileURLToPath(new URL(name, import.meta.url))
}
