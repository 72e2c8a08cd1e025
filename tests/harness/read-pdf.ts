// The bytes of a PDF into what an independent reader finds in them: the texts of each page, title, language, tags.
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'

export type ReadPdf = {
  pages: { text: string; width: number; height: number; roles: string[] }[]
  title: string | undefined
  language: string | null
  isTagged: boolean
}

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
    pages.push({ text: text.replace(/\s+/g, ' '), width, height, roles: tree ? rolesIn(tree) : [] })
  }
  const { Title, Language } = info as { Title?: string; Language?: string }
  return {
    pages,
    title: Title,
    language: Language ?? null,
    isTagged: (mark as { Marked?: boolean } | null)?.Marked === true,
  }
}
