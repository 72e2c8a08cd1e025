// The result so far into three rows: make, break and differential, each with its uncertainty and its limits.

import { ratingOf } from '../../core/model/part.ts'
import { limitsText, readingStep, uncertainNumbers } from '../../core/text/pressure-text.ts'
import { type Line, line, span } from '../text/line.ts'
import { padText } from '../text/text.ts'
import { outcomeWord, outcomeWords } from '../text/words.ts'
import type { Layout, Rect } from './layout.ts'
import type { Shown } from './shown.ts'

const names = ['make', 'break', 'differential'] as const

/** A heading with the units, then a row each; where there is no result yet the limits stand alone. Three rows: the units stand beside the numbers. */
export function estimateLines({ live, part }: Shown, rect: Rect, _layout: Layout): Line[] {
  const rating = ratingOf(part)
  const { unit } = rating
  const result = live?.result ?? null
  const roomy = rect.width >= 60
  const headed = rect.height > names.length
  const nameWidth = roomy ? 13 : 6
  const pascal = unit !== 'Pa'
  const [ownWidth, pascalWidth] = headed ? [17, roomy ? 15 : 13] : [24, 18]
  const head =
    padText('', nameWidth + 2) +
    padText(unit, ownWidth) +
    (pascal ? padText('Pa', pascalWidth) : '') +
    (roomy ? 'limits' : '')
  const rows = names.map((name): Line => {
    const limit = result?.limits.find((l) => l.name === name)
    const outcome = outcomeWords[limit?.outcome ?? 'not-assessed']
    const amount = (as: typeof unit, width: number) => {
      const value = result?.[name] ?? { valuePa: null, UPa: null }
      // Without a space behind the sign: both units share few cells.
      const text = uncertainNumbers(value, as, readingStep(rating.ratedPa)).replace('± ', '±')
      return padText(headed ? text : `${text} ${as}`, width)
    }
    const limits = limitsText(limit ?? rating.limits[name], unit) ?? 'no limit'
    const had = result?.[name].valuePa != null
    const word = limit ? outcomeWord(limit.outcome, had, live?.phase === 'ended') : ''
    return [
      span(`${had ? outcome.sign : ' '} `, outcome.tone),
      span(padText(name === 'differential' && !roomy ? 'diff.' : name, nameWidth), 'strong'),
      span(amount(unit, ownWidth)),
      ...(pascal ? [span(amount('Pa', pascalWidth))] : []),
      ...(roomy ? [span(limits, 'dim'), span(`  ${word}`, had ? outcome.tone : 'dim')] : []),
    ]
  })
  return headed ? [line(head, 'dim'), ...rows] : rows
}
