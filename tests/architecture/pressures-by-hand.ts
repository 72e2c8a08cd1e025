// The source into the lines that write a pressure by themselves, instead of through src/core/text/pressure-text.ts.
import { codeOf } from '../../src/contract/code-of.ts'
import type { SourceFile } from './rules.ts'

/** What writes numbers for all others. */
const writers = ['src/core/text/pressure-text.ts', 'src/core/text/figures-text.ts', 'src/core/statistics/at-place.ts']

/** Parts that write no number for a person: the simulated instruments write what a real one sends; numbers that were sent are compared. */
const elsewhere = ['src/simulation/', 'src/protocol/']

/** What may be written with so many decimals at the spot, by its name as written there; one that holds `Pa` never may. */
const otherNumbers: readonly { name: RegExp; only?: string; why: string }[] = [
  { name: /ohm( \/ 1e[36]\))?$/i, why: 'resistances: one unit, and the ranges of a meter' },
  { name: /[a-z]S$/, why: 'seconds, and readings in one of them' },
  { name: /Mm$/, why: 'lengths' },
  { name: /share\)$/, why: 'percentages' },
  { name: /^(k|dof|ratio|birgeRatio)$/, why: 'numbers without a unit' },
  { name: /^p$/, only: 'src/commands/rig-lag.ts', why: 'a probability' },
  { name: /^\(bytes \/ 1e6\)$/, why: 'the size of a file' },
  { name: /^[xy]$/, only: 'src/report/plot-sheet.ts', why: 'coordinates of a drawing' },
]

/** Places that divide by a unit and write nothing: the scale of a plot's axis. */
const scales = ['src/report/curve-axis.ts']

/** The lines of a file that round a number that is none of the others, put `Pa` behind one, or turn pascal into another unit. */
export function pressuresByHand({ path, text }: SourceFile): string[] {
  if (!path.startsWith('src/') || [...writers, ...elsewhere].some((known) => path.startsWith(known))) return []
  return codeOf(text)
    .split('\n')
    .flatMap((line, i) => {
      const rounded = [...line.matchAll(/([\w$]+|\([^()]*\))!?\??\.to(?:Fixed|Precision|Exponential|LocaleString)\(/g)]
      const wrong = [
        ...rounded.map(([, name = '']) => name).filter((name) => !isOther(path, name)),
        ...[...line.matchAll(/\}\s?Pa\b/g)].map(() => 'Pa'),
        ...(scales.includes(path) ? [] : [...line.matchAll(/\/\s*pressureUnits\b/g)].map(() => 'pressureUnits')),
      ]
      return wrong.map((name) => `${path}:${i + 1} writes ${name} by itself`)
    })
}

function isOther(path: string, name: string): boolean {
  return !/Pa/.test(name) && otherNumbers.some((other) => other.name.test(name) && path === (other.only ?? path))
}
