// The compiler's account of why each file is in the program, and a file's own text, into its imports.

export type Import = { from: string; to: string }

/** Imports between our own files, type imports too, out of what `tsc --explainFiles` prints; paths as printed. */
export function readImports(explained: string): Import[] {
  const imports: Import[] = []
  let to = ''
  for (const line of explained.split(/\r?\n/)) {
    if (line !== '' && !line.startsWith(' ')) to = line
    const from = /^ {2,3}(?:Imported|Type-only imported) via .* from file '([^']+)'/.exec(line)?.[1]
    if (from !== undefined && isOwn(from) && isOwn(to)) imports.push({ from, to })
  }
  return imports
}

const isOwn = (path: string) => /^(src|drivers|tests)\//.test(path)

/** Names of the packages that `text` imports, `node:` modules too, sub-paths cut off; our own files left out. */
export function readPackages(text: string): string[] {
  const found = [...text.matchAll(/(?:\bfrom\s*|\bimport\s*\(?\s*|\brequire\s*\(\s*)'(@?[a-z][\w./:@-]*)'/g)]
  const names = found.map(([, name = '']) =>
    name.startsWith('node:')
      ? name
      : name
          .split('/')
          .slice(0, name.startsWith('@') ? 2 : 1)
          .join('/'),
  )
  return [...new Set(names)]
}
