// The result so far into three rows: make, break and differential, each with its uncertainty and its limits; below them what lag and leak leave open.

import { ratingOf } from '../../core/model/part.ts'
import { allowanceText, limitsText, readingStep, uncertainNumbers } from '../../core/text/pressure-text.ts'
import { type Line, line, span, wrapLine } from '../text/line.ts'
import { padText } from '../text/text.ts'
import { outcomeWord, outcomeWords, showsOutcomes } from '../text/words.ts'
import { allowedRows, type Layout, type Rect } from './layout.ts'
import type { Shown } from './shown.ts'

const names = ['make', 'break', 'differential'] as const
const nothing = { valuePa: null, UPa: null, allowLowPa: null, allowHighPa: null }

const shortName = (name: (typeof names)[number], roomy: boolean) => (name === 'differential' && !roomy ? 'diff.' : name)

/** Whether any value may lie beyond its U: it takes rows then. */
export function hasAllowance({ live, part }: Shown): boolean {
  const { unit, ratedPa } = ratingOf(part)
  return names.some((name) => allowanceText(live?.result?.[name] ?? nothing, unit, readingStep(ratedPa)) !== null)
}

/**
 * A heading with the units, then a row each, then what may lie beyond U; where there is no result yet the limits come alone. In
 * three rows the units come beside the numbers; without rows for it only the side that lies beyond U is named.
 */
export function estimateLines({ live, part }: Shown, rect: Rect, _layout: Layout): Line[] {
  const rating = ratingOf(part)
  const { unit } = rating
  const result = live?.result ?? null
  const roomy = rect.width >= 60
  const headed = rect.height > names.length
  const told = rect.height > names.length + allowedRows
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
    const shown = result !== null && showsOutcomes(result) ? limit?.outcome : undefined
    const outcome = outcomeWords[shown ?? 'not-assessed']
    const amount = (as: typeof unit, width: number) => {
      const value = result?.[name] ?? nothing
      // Without a space behind the sign: both units share few cells.
      const text = uncertainNumbers(value, as, readingStep(rating.ratedPa)).replace('± ', '±')
      return padText(headed ? text : `${text} ${as}`, width)
    }
    const limits = limitsText(limit ?? rating.limits[name], unit) ?? 'no limit'
    const had = result?.[name].valuePa != null
    const word = shown ? outcomeWord(shown, had, live?.phase === 'ended') : ''
    const beyond = allowanceText(result?.[name] ?? nothing, unit, readingStep(rating.ratedPa), true)
    return [
      span(`${had ? outcome.sign : ' '} `, outcome.tone),
      span(padText(shortName(name, roomy), nameWidth), 'strong'),
      span(amount(unit, ownWidth)),
      ...(pascal ? [span(amount('Pa', pascalWidth))] : []),
      ...(told || beyond === null ? [] : [span(`or ${beyond.split(' ').at(-1)}`)]),
      ...(roomy ? [span(limits, 'dim'), span(`  ${word}`, had ? outcome.tone : 'dim')] : []),
    ]
  })
  if (!told) return headed ? [line(head, 'dim'), ...rows] : rows
  const open = names.flatMap((name) => {
    const text = allowanceText(result?.[name] ?? nothing, unit, readingStep(rating.ratedPa), !roomy)
    return text === null ? [] : [`${shortName(name, roomy)} ${text}`]
  })
  const words =
    open.length > 0 ? wrapLine(line(`Lag or leak: ${open.join(', ')}`, 'warn'), rect.width, allowedRows) : []
  return [line(head, 'dim'), ...rows, ...words]
}
