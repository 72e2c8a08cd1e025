// A layout as a drawing: one letter for each two cells of a row, so that a test can show what it expects.
import { layoutOf, type Place, type Size } from '../../src/terminal/panels/layout.ts'

const letters: Record<Place, string> = {
  header: 'h',
  steps: 's',
  say: 'n',
  pressure: 'P',
  contact: 'C',
  hand: 'r',
  trace: 't',
  loop: 'o',
  estimates: 'e',
  bands: 'b',
  cycles: 'y',
  findings: 'f',
  links: 'l',
  keys: 'k',
}

/** Rows of the drawing; equal rows that follow one another are drawn once, with their number. */
export function drawLayout(size: Size): string[] {
  const { all, places } = layoutOf(size)
  const drawn: { row: string; times: number }[] = []
  for (let y = 0; y < all.height; y++) {
    let row = ''
    for (let x = 0; x < all.width; x += 2) {
      const here = (Object.keys(places) as Place[]).filter((place) => {
        const r = places[place]!
        return x >= r.x && x < r.x + r.width && y >= r.y && y < r.y + r.height
      })
      row += here.length > 1 ? '!' : here.length === 1 ? letters[here[0]!] : '.'
    }
    const last = drawn.at(-1)
    if (last?.row === row) last.times++
    else drawn.push({ row, times: 1 })
  }
  return drawn.map(({ row, times }) => `${String(times).padStart(2)} ${row}`)
}
