// The states of a test, one after the other, into lines for a screen reader: what matters as it happens, numbers now and then.

import { type Part, ratingOf } from '../../core/model/part.ts'
import { oneUnitText, pressureText, readingStep } from '../../core/text/pressure-text.ts'
import type { Live } from '../../core/view/live.ts'
import { createPlain } from '../text/plain.ts'
import { cleanText } from '../text/text.ts'
import { contactWords, positionWord } from '../text/words.ts'
import { paceWords, targetWords } from './hand-panel.ts'

/** Numbers are told at most so often, ms of the clock on the wall: long enough to hear the line before. */
const numbersEveryMs = 5000
/** And only once the pressure has moved by this share of the rated point since they were told. */
const movedShare = 0.05

/**
 * Takes each state with the time on the wall, ms, and writes what is new in it: all that the plain lines tell, and besides
 * each change of the contact, the cautions, what is wrong with the bench, and the pressure now and then. A state that
 * brings nothing new writes nothing.
 */
export function createCalmLines(
  write: (line: string) => void,
  part: Part,
  simulated: boolean,
): (live: Live, nowMs: number) => void {
  const tell = createPlain(write)
  const { ratedPa } = ratingOf(part)
  let cautioned = false
  let actuated: boolean | null = null
  let trouble: string | null = null
  let numbers = { atMs: Number.NEGATIVE_INFINITY, pressurePa: 0 }

  return (live, nowMs) => {
    const { pressurePa, guide } = live
    if (live.actuated !== null && live.actuated !== actuated && live.phase !== 'ended') {
      const at = actuated === null || pressurePa === null ? '' : `, ${amountText(pressurePa, part)}`
      actuated = live.actuated
      write(`${sentence(contactWords[live.contact].full)}: ${positionWord(actuated)}${at}.`)
    }
    if (!cautioned && guide && guide.cautions.length > 0) {
      cautioned = true
      for (const { text } of guide.cautions) write(`Caution: ${text}`)
    }
    if (guide && guide.trouble !== trouble) {
      trouble = guide.trouble
      if (trouble !== null && trouble !== live.next) write(`Wrong: ${cleanText(trouble)}`)
    }
    tell(live, part, simulated)
    if (live.phase === 'ended' || pressurePa === null || nowMs - numbers.atMs < numbersEveryMs) return
    if (Math.abs(pressurePa - numbers.pressurePa) < movedShare * ratedPa) return
    numbers = { atMs: nowMs, pressurePa }
    write(numbersText(live, pressurePa, part))
  }
}

/** The pressure, how the pace is and how far it is to the next point, such as `0.183 inH2O (45.5 Pa), good pace, to the make 0.067 inH2O.` */
function numbersText({ guide }: Live, pressurePa: number, part: Part): string {
  const { unit, ratedPa } = ratingOf(part)
  const pace = guide?.rate ? paceWords[guide.rate.pace].word : ''
  const target = guide?.target
  const left = target ? `${targetWords[target.name]} ${oneUnitText(target.leftPa, unit, readingStep(ratedPa))}` : ''
  return `${[amountText(pressurePa, part), pace, left].filter((text) => text !== '').join(', ')}.`
}

function amountText(pressurePa: number, part: Part): string {
  const { unit, ratedPa } = ratingOf(part)
  return pressureText(pressurePa, unit, readingStep(ratedPa))
}

const sentence = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
