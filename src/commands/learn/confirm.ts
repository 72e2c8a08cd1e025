// Ways to read a line into the one that agrees with the instrument's own display, asked about at two points.
import { readingText } from '../../core/text/reading-text.ts'
import { Problem } from '../../errors.ts'
import { type Candidate, framesOf, readPieces, setOptions } from '../../learn/candidates.ts'
import type { Piece } from '../../learn/heard.ts'
import { type Agreeing, type Held, heldAgainst, type Observation } from '../../learn/held-against-display.ts'
import { readShown, type Shown } from '../../learn/shown.ts'
import type { Line } from '../open-line.ts'
import { print, printWords } from '../print.ts'
import type { Answers } from './answers.ts'
import { settingText } from './find-line.ts'
import { watchLine } from './watch-line.ts'

/** One thing to do at the instrument, and the question what its display shows then. */
export type Point = {
  does: string
  example: string
  /** What Enter answers; null where the display has to be typed. */
  enter: 'as read' | 'open' | null
  /** What is wrong with an answer at this point; null where nothing is. */
  refuse: (shown: Shown, before: readonly Observation[]) => string | null
}

const mostTries = 3
const shownFrames = 3
const shownWays = 4

/** Asks about `points`, and about `further` while more than one way is left. */
export async function confirm(
  line: Line,
  candidates: readonly Candidate[],
  points: readonly Point[],
  further: Point,
  answers: Answers,
): Promise<Agreeing & { observations: Observation[] }> {
  const observations: Observation[] = []
  let left: readonly Candidate[] = candidates
  let agreeing: Agreeing[] = []
  for (let i = 0; i < points.length || (agreeing.length > 1 && i < points.length + 2); i++) {
    if (i >= points.length) tellWays(agreeing)
    const held = await confirmPoint(line, left, points[i] ?? further, observations, answers)
    agreeing = held.agreeing
    left = left.filter((candidate) => heldAgainst([candidate], observations).agreeing.length > 0)
  }
  const [only, more] = agreeing
  if (only !== undefined && more === undefined) return { ...only, observations }
  return { ...(await choose(agreeing, answers)), observations }
}

/** Asks until the answer agrees with some way to read the line; adds it to `observations`. */
async function confirmPoint(
  line: Line,
  candidates: readonly Candidate[],
  point: Point,
  observations: Observation[],
  answers: Answers,
): Promise<Held> {
  const queries = [...new Set(candidates.flatMap(({ query }) => (query === null ? [] : [query])))]
  const watched = watchLine(line, queries)
  try {
    print('')
    printWords(point.does)
    for (let tried = 1; ; ) {
      await watched.fresh((heard) =>
        candidates.slice(0, 1).every((first) => readPieces(first, heard).readings.length > 1),
      )
      const pieces = () => watched.last()
      const enter = point.enter === 'open' ? 'open' : point.enter && lastReading(candidates, pieces())
      const example = enter ? `Enter: ${enter}` : `such as ${point.example}`
      const text = await Promise.race([answers.ask(`What does its display show? [${example}]`), watched.gone])
      const typed = readShown(text === '' && enter ? enter : text)
      // Who has typed the unit once need not do so again.
      const shown = typed && { ...typed, unit: typed.unit ?? observations[0]?.shown.unit ?? null }
      const refused =
        shown === null
          ? `Type the number and its unit, such as ${point.example}.`
          : (unclear(shown, candidates) ?? point.refuse(shown, observations))
      if (shown === null || refused !== null) {
        printWords(refused!)
        continue
      }
      const now = { shown, pieces: pieces() }
      const held = heldAgainst(candidates, [...observations, now])
      if (held.agreeing.length > 0) {
        observations.push(now)
        return held
      }
      const read = held.instead === null ? 'nothing was read' : `${readingText(held.instead)} was read`
      const differs = `The display shows ${text || enter} and ${read}: they do not agree.`
      if (tried++ >= mostTries) throw new Problem('display-differs', differs)
      printWords(`${differs} Hold it still and try once more, or press Ctrl-C.`)
    }
  } finally {
    await watched.stop()
  }
}

/** A number whose unit neither the line nor the display tells. */
function unclear(shown: Shown, candidates: readonly Candidate[]): string | null {
  const isOpen = candidates.some(({ open }) => open.unit !== null || open.scale !== null)
  return isOpen && shown.unit === null && Number.isFinite(shown.value)
    ? 'Type its unit as well: the line does not say it.'
    : null
}

/** The last reading of the likeliest way, where its line says the unit; null where that is for the display to tell. */
function lastReading([first]: readonly Candidate[], pieces: readonly Piece[]): string | null {
  if (first === undefined || first.open.unit !== null || first.open.scale !== null) return null
  const last = readPieces(first, pieces).readings.at(-1)
  return last === undefined || !Number.isFinite(last.value) ? null : readingText(last)
}

/** What was found at a port: the setting, and for the likeliest ways the last frames, raw beside what is read of them. */
export function tellFound(candidates: readonly Candidate[], pieces: readonly Piece[]): void {
  const [first] = candidates
  if (first === undefined) return
  const others = new Set(candidates.map(({ driver }) => driver.id)).size - 1
  print(
    `${settingText(first.settings)}, driver ${first.driver.id}${others > 0 ? ` (${others} more could be meant)` : ''}:`,
  )
  for (const { raw, reading } of framesOf(first, pieces).slice(-shownFrames))
    print(`  ${JSON.stringify(raw)}  reads  ${bare(first, readingText(reading))}`)
  if (first.open.unit !== null) print('  The line does not say its unit: the display tells it.')
}

/** Without the unit that was only put in until one is known. */
const bare = ({ open }: Candidate, text: string) => (open.unit === null ? text : text.replace(/ \S+$/, ''))

function tellWays(agreeing: readonly Agreeing[]): void {
  printWords(`${agreeing.length} ways to read the line agree with the display so far:`)
  for (const [i, way] of agreeing.slice(0, shownWays).entries()) print(`  ${i + 1}  ${wayText(way)}`)
}

function wayText({ candidate, readings }: Agreeing): string {
  const options = Object.entries(setOptions(candidate)).map(([name, value]) => `${name} ${value}`)
  return `${[candidate.driver.id, ...options].join(', ')}: ${readings.map(readingText).join(', then ')}`
}

/** What nothing tells apart is for the person to choose, never for the program. */
async function choose(agreeing: readonly Agreeing[], answers: Answers): Promise<Agreeing> {
  tellWays(agreeing)
  for (;;) {
    const text = await answers.ask(
      `The display does not tell them apart. Which one is it? [1 to ${Math.min(shownWays, agreeing.length)}]`,
    )
    const chosen = /^\d+$/.test(text) ? agreeing[Number(text) - 1] : undefined
    if (chosen !== undefined) return chosen
  }
}
