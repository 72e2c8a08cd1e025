// A short text into large letters of filled squares, to be read from across the room.

// Five rows a glyph, from the top; `#` is a filled square.
const glyphs: Record<string, string> = {
  '0': '### #.# #.# #.# ###',
  '1': '.#. ##. .#. .#. ###',
  '2': '### ..# ### #.. ###',
  '3': '### ..# ### ..# ###',
  '4': '#.# #.# ### ..# ..#',
  '5': '### #.. ### ..# ###',
  '6': '### #.. ### #.# ###',
  '7': '### ..# ..# .#. .#.',
  '8': '### #.# ### #.# ###',
  '9': '### #.# ### ..# ###',
  '.': '. . . . #',
  '-': '.. .. ## .. ..',
  '–': '... ... ### ... ...',
  '?': '### ..# .## ... .#.',
  ' ': '.. .. .. .. ..',
  A: '.#. #.# ### #.# #.#',
  B: '##. #.# ##. #.# ##.',
  C: '### #.. #.. #.. ###',
  D: '##. #.# #.# #.# ##.',
  E: '### #.. ##. #.. ###',
  F: '### #.. ##. #.. #..',
  H: '#.# #.# ### #.# #.#',
  I: '# # # # #',
  L: '#.. #.. #.. #.. ###',
  N: '#..# ##.# #.## #..# #..#',
  O: '### #.# #.# #.# ###',
  P: '### #.# ### #.. #..',
  R: '##. #.# ##. #.# #.#',
  S: '### #.. ### ..# ###',
  T: '### .#. .#. .#. .#.',
  U: '#.# #.# #.# #.# ###',
  K: '#.# #.# ##. #.# #.#',
  V: '#.# #.# #.# #.# .#.',
  W: '#...# #...# #.#.# ##.## #...#',
}
const glyphRows = 5

/** Cells that `text` takes at `scale` (squares of `scale` by `scale` half cells), a gap of one square between letters. */
export function bigWidth(text: string, scale: number): number {
  const squares = [...text].reduce((sum, char) => sum + rowsOf(char)[0]!.length + 1, -1)
  return Math.max(0, squares) * scale
}

/** Rows that any text takes at `scale`. */
export const bigHeight = (scale: number): number => Math.ceil((glyphRows * scale) / 2)

/** The largest scale from `most` down to 1 at which `text` fits `width` by `height` cells; 0 where none does. */
export function bigScale(text: string, width: number, height: number, most: number): number {
  for (let scale = most; scale >= 1; scale--)
    if (bigWidth(text, scale) <= width && bigHeight(scale) <= height) return scale
  return 0
}

/** Letters drawn before: there are few, and they come back ten times a second. */
const glyphPictures = new Map<string, readonly string[]>()

/** `text` as rows of half and full blocks, all of one width. Letters without a glyph show as `?`; empty text gives empty rows. */
export function bigText(text: string, scale: number): string[] {
  const pictures = [...text].map((char) => {
    const key = `${scale} ${char}`
    const known = glyphPictures.get(key) ?? drawGlyph(char, scale)
    glyphPictures.set(key, known)
    return known
  })
  const gap = ' '.repeat(scale)
  return Array.from({ length: bigHeight(scale) }, (_, row) => pictures.map((picture) => picture[row]).join(gap))
}

function drawGlyph(char: string, scale: number): string[] {
  const squares = rowsOf(char)
  const filled = (x: number, halfRow: number) => squares[Math.floor(halfRow / scale)]?.[Math.floor(x / scale)] === '#'
  return Array.from({ length: bigHeight(scale) }, (_, row) =>
    Array.from({ length: bigWidth(char, scale) }, (_, x) => {
      const upper = filled(x, 2 * row)
      const lower = filled(x, 2 * row + 1)
      return upper ? (lower ? '█' : '▀') : lower ? '▄' : ' '
    }).join(''),
  )
}

function rowsOf(char: string): string[] {
  return (glyphs[char] ?? glyphs['?']!).split(' ')
}
