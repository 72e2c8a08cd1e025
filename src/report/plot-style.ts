// The looks that both plots share: sizes in px, colours that stay apart for colour-blind readers and in grey print.

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

type Sides = { width: number; height: number; left: number; right: number; top: number; bottom: number }

/** The sheet of a drawing and the edges of the area that holds its data. */
export type Frame = {
  sheet: Sides
  area: { x0: number; x1: number; y0: number; y1: number }
  /** It names itself and its estimates: not where the page around it does. */
  titled: boolean
  /** About so many ticks an axis. */
  ticks: { across: number; up: number }
}

function frameOf(sheet: Sides, titled: boolean, ticks: Frame['ticks']): Frame {
  const { width, height, left, right, top, bottom } = sheet
  return { sheet, area: { x0: left, x1: width - right, y0: height - bottom, y1: top }, titled, ticks }
}

/** A drawing by itself. */
export const wholeFrame = frameOf({ width: 720, height: 440, left: 84, right: 84, top: 118, bottom: 64 }, true, {
  across: 8,
  up: 8,
})

/** Half the width of a page: its letters are large beside it, so that they can be read where that is printed small. */
export const paperFrame = frameOf({ width: 460, height: 206, left: 62, right: 56, top: 44, bottom: 38 }, false, {
  across: 6,
  up: 5,
})
