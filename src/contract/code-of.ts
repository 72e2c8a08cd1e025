// The text of a source file into its code alone.

/** `text` without comments and plain strings: what is left is code. Line numbers stay. */
export function codeOf(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\/|\/\/.*|'(?:\\.|[^'\\\n])*'|"(?:\\.|[^"\\\n])*"/g, (piece) =>
    piece.startsWith('/*') ? piece.replace(/[^\n]/g, '') : piece.startsWith('/') ? '' : "''",
  )
}
