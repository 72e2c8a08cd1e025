// The looks that both plots share: sizes in px, colours that stay apart for colour-blind readers and in grey print.

export const sheet = { width: 720, height: 440, left: 84, right: 84, top: 118, bottom: 64 }

/** Make is drawn dark teal and points up, break ochre and points down: told apart by shape and by lightness too. */
export const hues = {
  ink: '#20262b',
  faint: '#8a949c',
  grid: '#e3e7ea',
  paper: '#ffffff',
  make: '#0f6b6b',
  break: '#c07a12',
} as const

export const font = 'font-family="DejaVu Sans, Verdana, sans-serif"'

/** Edges of the drawing area inside the sheet. */
export const area = {
  x0: sheet.left,
  x1: sheet.width - sheet.right,
  y0: sheet.height - sheet.bottom,
  y1: sheet.top,
} as const
