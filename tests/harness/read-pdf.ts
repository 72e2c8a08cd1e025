// The bytes of a PDF into what an independent reader finds in them: the texts of each page, title, language, tags.
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs'

export type ReadPdf = {
  pages: { text: string; width: number; height: number; roles: string[]; places: Place[]; images: number }[]
  title: string | undefined
  language: string | null
  isTagged: boolean
}

/** Where a text is, in points from the lower left corner; `upright`: it is not turned. */
export type Place = { text: string; x: number; y: number; right: number; upright: boolean }

type Node = { role?: string; children?: Node[] }
const rolesIn = ({ role, children = [] }: Node): string[] => [...(role ? [role] : []), ...children.flatMap(rolesIn)]

export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise
  const { info } = await pdf.getMetadata()
  const mark = await pdf.getMarkInfo()
  const pages: ReadPdf['pages'] = []
  for (let i = 1; i <= pdf.numPages; i++) {
    const page = await pdf.getPage(i)
    const { items } = await page.getTextContent()
    const [, , width = 0, height = 0] = page.view
    const tree = (await page.getStructTree()) as Node | null
    const text = items.map((item) => ('str' in item ? item.str : '')).join(' ')
    const places = items.flatMap((item): Place[] => {
      if (!('str' in item) || item.str.trim() === '') return []
      const [, b = 0, , , x = 0, y = 0] = item.transform as number[]
      return [{ text: item.str, x, y, right: x + item.width, upright: b === 0 }]
    })
    const { fnArray } = await page.getOperatorList()
    const images = fnArray.filter((fn) => fn === OPS.paintImageXObject).length
    const roles = tree ? rolesIn(tree) : []
    pages.push({ text: text.replace(/\s+/g, ' '), width, height, roles, places, images })
  }
  const { Title, Language } = info as { Title?: string; Language?: string }
  return {
    pages,
    title: Title,
    language: Language ?? null,
    isTagged: (mark as { Marked?: boolean } | null)?.Marked === true,
  }
}
