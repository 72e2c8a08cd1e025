// The ways to read a port into what a rig file states of its instrument: confirmed at two points, the rest asked for.
import type { Pair } from '../../core/model/pair.ts'
import { type PressureUnit, pressureUnits } from '../../core/model/units.ts'
import { givenText } from '../../core/text/figures-text.ts'
import { shareOfPercent } from '../../core/text/percent-text.ts'
import { numberText } from '../../core/text/pressure-text.ts'
import { readingText } from '../../core/text/reading-text.ts'
import type { Role } from '../../driver.ts'
import { type Candidate, setOptions } from '../../learn/candidates.ts'
import { openAboveOhm } from '../../learn/held-against-display.ts'
import { readShown } from '../../learn/shown.ts'
import type { Line } from '../open-line.ts'
import { printWords } from '../print.ts'
import type { Answers } from './answers.ts'
import { confirm, type Point } from './confirm.ts'

type Json = Readonly<Record<string, unknown>>

/** A display that moved by fewer digits may only have flickered. Shop rule. */
const leastDigits = 5
/** Above it a contact does not count as closed, where a rig file does not say otherwise. */
const closedBelowOhm = 10

const room: Point = {
  does: 'Leave the hose open to the room, nothing pulls.',
  example: '0.000 inH2O',
  enter: 'as read',
  refuse: ({ value }) => (Number.isFinite(value) ? null : 'Vent the hose until the display shows a number.'),
}

const moved: Point['refuse'] = ({ value, digit }, before) => {
  if (!Number.isFinite(value)) return 'That is beyond its range: pull less.'
  const apart = before.map(({ shown }) => Math.abs(Math.abs(value) - Math.abs(shown.value)))
  const digits = Math.max(digit ?? 0, before[0]?.shown.digit ?? 0)
  return Math.min(...apart) < leastDigits * digits
    ? 'That is too near to what it showed before: pull a little more.'
    : null
}

const pull: Point = {
  does: 'Pull a little suction with the syringe, on the side that the switch will be on; never by mouth. Hold it.',
  example: '-0.25',
  enter: null,
  refuse: moved,
}

const pullFurther: Point = { ...pull, does: 'To tell them apart, pull about twice as far, and hold it.' }

const apart: Point = {
  does: 'Leave the two clips of the leads apart.',
  example: 'open',
  enter: 'open',
  refuse: ({ value }) => (value >= openAboveOhm ? null : 'Apart they should show an open circuit: check the clips.'),
}

const together: Point = {
  does: 'Clip the two leads together.',
  example: '0.3 ohm, or short',
  enter: null,
  refuse: ({ value }) =>
    value < openAboveOhm ? null : 'Together they should show a small resistance: check the clips.',
}

/** What the rig file states of the instrument at `path`. */
export async function learnInstrument(
  line: Line,
  path: string,
  candidates: readonly Candidate[],
  role: Role,
  answers: Answers,
): Promise<Json> {
  let left = candidates.filter((candidate) => candidate.role === role)
  let gauge: Json = {}
  let contact: Json = {}
  if (role !== 'meter') {
    const { candidate, readings, observations } = await confirm(line, left, [room, pull], pullFurther, answers)
    left = [candidate]
    const [atRoom, pulled] = readings
    const unit = (pulled!.unit in pressureUnits ? pulled!.unit : 'Pa') as PressureUnit
    const typed = observations[1]!.shown
    const digitPa = pulled!.digit ?? (typed.digit ?? 0) * (typed.unit?.factor ?? pressureUnits[unit])
    const suctionSign = pulled!.value < atRoom!.value ? -1 : 1
    printWords(`${readingText(pulled!)} agrees: suction reads ${suctionSign < 0 ? 'negative' : 'positive'}.`)
    gauge = {
      suctionSign,
      digit: { value: Number(numberText(digitPa, unit, { upTo: 6 })), unit },
      ...(await askAccuracy((typed.unit?.unit as PressureUnit) ?? unit, answers)),
    }
  }
  if (role !== 'manometer') {
    const { candidate, readings } = await confirm(line, left, [apart, together], together, answers)
    left = [candidate]
    contact = { pair: await askPair(answers), ...leadsOf(readings[1]!) }
  }
  const { driver, settings } = left[0]!
  const options = setOptions(left[0]!)
  const { baudRate, ...frame } = settings
  const others = Object.entries(frame).filter(([name, value]) => driver.serial[name as keyof typeof frame] !== value)
  return {
    driver: driver.id,
    port: { path, baudRate, ...Object.fromEntries(others) },
    ...(Object.keys(options).length > 0 ? { options } : {}),
    ...gauge,
    ...contact,
  }
}

/** What the leads have of their own, as read with the clips together; nothing of a tester that tells no ohms. */
function leadsOf({ quantity, value }: { quantity: string; value: number }): Json {
  if (quantity !== 'resistance' || !Number.isFinite(value) || value <= 0) return {}
  if (value >= closedBelowOhm) {
    printWords(
      `${readingText({ quantity, value, unit: 'ohm', digit: null })} is much for leads: a contact above ${closedBelowOhm} ohm does not count as closed. Clean the clips.`,
    )
    return {}
  }
  return { leadsOhm: Number(givenText(value, 3)) }
}

async function askPair(answers: Answers): Promise<Pair> {
  for (;;) {
    const text = await answers.ask(
      'Which contact will the clips be on: no (open at rest) or nc (closed at rest)? [Enter: no]',
    )
    if (/^(no|com-no|)$/i.test(text)) return 'com-no'
    if (/^(nc|com-nc)$/i.test(text)) return 'com-nc'
  }
}

/** The accuracy of a manometer and its full scale; nothing where they are not known, and that is said. */
async function askAccuracy(unit: PressureUnit, answers: Answers): Promise<Json> {
  for (;;) {
    const text = await answers.ask(
      'Its accuracy, from the data sheet, such as 0.5 % (of full scale) or 0.5 % of reading? [Enter: not known, and then no test is assessed]',
    )
    if (text === '') return {}
    const shares = accuracyOf(text)
    if (shares === null) {
      printWords('Type it with its percent sign, such as 0.5 % or 0.2 % of reading + 0.3 %.')
      continue
    }
    for (;;) {
      const scale = await answers.ask(
        `Its full scale, such as 10 ${unit}? [Enter: not known, and then no test is assessed]`,
      )
      if (scale === '') return {}
      const shown = readShown(scale)
      const stated = shown?.unit ? shown.unit.unit : unit
      if (shown !== null && shown.value > 0 && Number.isFinite(shown.value) && stated in pressureUnits)
        return { accuracy: { ...shares, fullScale: { value: shown.value, unit: stated }, distribution: 'rectangular' } }
      printWords('Type a number and a unit of pressure.')
    }
  }
}

/** The shares of `0.2 % of reading + 0.3 %`; null where it is no such text, or more than any instrument has. */
export function accuracyOf(text: string): { ofReading: number; ofFullScale: number } | null {
  const shares = { ofReading: 0, ofFullScale: 0 }
  for (const each of text.split('+')) {
    const [, percent = '', of = ''] = /^\s*(?:±\s*)?([\d.,]+\s*%)\s*(?:of\s+)?([a-z ]*)$/i.exec(each) ?? []
    const share = shareOfPercent(percent.replace(',', '.'))
    const isReading = /^(reading|rdg)\s*$/i.test(of)
    if (share === null || share > 0.1 || !(isReading || /^(full scale|scale|range|fs|)\s*$/i.test(of))) return null
    shares[isReading ? 'ofReading' : 'ofFullScale'] += share
  }
  return shares
}
