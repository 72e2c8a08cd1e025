// A judged recording into what it rests on: zero, tightness, findings, what was left out, the recording itself and its signature.
import { leftOutOf } from '../../core/guide/step.ts'
import { cautionsOf } from '../../core/model/cautions.ts'
import type { CycleResult } from '../../core/model/result.ts'
import { rigPorts } from '../../core/model/rig.ts'
import { toArray } from '../../core/model/series.ts'
import { linesText } from '../../core/text/lines-text.ts'
import { pressureText } from '../../core/text/pressure-text.ts'
import { whatItProves } from './honest-words.ts'
import { outsideText } from './outside-text.ts'
import type { Fact, Section } from './report.ts'
import { type ReportInput, unitsOf } from './report-input.ts'

export function evidenceSections(input: ReportInput): Section[] {
  return [
    { heading: 'Zero and tightness', blocks: [{ kind: 'facts', facts: [...zero(input), ...tightness(input)] }] },
    { heading: 'Findings', blocks: [{ kind: 'sentences', sentences: findings(input) }] },
    { heading: 'Left out, discarded', blocks: [{ kind: 'facts', facts: deviations(input) }] },
    { heading: 'Recording', blocks: [{ kind: 'facts', facts: recording(input) }, proof(input)] },
  ]
}

function zero(input: ReportInput): Fact[] {
  const { analysis } = input
  const { before, after } = analysis.zero
  const rest = (of: typeof before) =>
    of && `${pressureText(of.meanPa, unitsOf(input), { stepPa: analysis.setup.rig.digitPa / 10 })}, ${of.n} readings`
  return [
    { label: 'Zero before', value: rest(before) },
    { label: 'Zero after', value: rest(after) },
  ]
}

function tightness(input: ReportInput): Fact[] {
  const { analysis } = input
  const { measured, run, setup } = analysis
  const marks = toArray(run.marks)
  const held = marks.some(({ mark }) => mark === 'hold' || mark === 'leak-hold')
  const leak = (name: 'make' | 'break') => {
    const { leakPa } = measured[name].allowance
    return `${name} up to ${pressureText(leakPa, unitsOf(input), { figures: 2 })} lower`
  }
  const { proved } = setup.start.rig
  return [
    { label: 'Held at a peak', value: held ? 'yes' : 'no mark of it' },
    { label: 'What a leak may still take', value: `${leak('make')}, ${leak('break')}` },
    {
      label: 'Line proved by a test of its own',
      value: proved?.recording ? `on ${proved.at.slice(0, 10)}, recording ${outsideText(proved.recording)}` : null,
    },
  ]
}

function findings({ result, words, notes }: ReportInput): string[] {
  const told = result.findings.map(
    ({ code, effect, text }) => `${words.effectWords[effect].word}: ${outsideText(text)} (${outsideText(code)})`,
  )
  return [...(told.length > 0 ? told : ['None.']), ...notes]
}

function deviations({ analysis, result, words }: ReportInput): Fact[] {
  const marks = toArray(analysis.run.marks)
  const skipped = leftOutOf(marks).map(({ step, reason }) => `${words.stepWords[step]} (${outsideText(reason)})`)
  const discarded = marks.flatMap(({ mark, text, tUs }) => {
    const atS = tUs / 1e6
    return mark === 'discard-cycle' ? [`at ${atS.toFixed(0)} s (${outsideText(text) ?? 'no reason recorded'})`] : []
  })
  const uncounted = result.cycles.filter(({ used }) => !used)
  const { purpose } = analysis.setup.start
  const known = new Set(marks.flatMap(({ mark, text }) => (mark === 'caution' ? [text] : [])))
  const read = cautionsOf(purpose).filter(({ name }) => known.has(name))
  return [
    { label: 'Steps left out', value: skipped.join('; ') || 'none' },
    { label: 'Strokes discarded', value: discarded.join('; ') || 'none' },
    {
      label: 'Strokes that do not count',
      value: uncounted.length === 0 ? 'none' : uncountedText(uncounted, words),
    },
    { label: 'Cautions acknowledged', value: read.map(({ name }) => name.replaceAll('-', ' ')).join(', ') || null },
  ]
}

/** Strokes with the same reason told together: `1 (first stroke), 2, 3 (preconditioning)`. */
function uncountedText(cycles: readonly CycleResult[], { cycleWord }: ReportInput['words']): string {
  return cycles
    .map((cycle, i) => {
      const [word, next] = [cycleWord(cycle), cycles[i + 1]]
      return next && cycleWord(next) === word ? String(cycle.stroke) : `${cycle.stroke} (${word})`
    })
    .join(', ')
}

function recording({ analysis, result, file, sha256, software, words, signed }: ReportInput): Fact[] {
  const { start } = analysis.setup
  const { damage, recorded, quality } = result
  const lines = rigPorts(start.rig).flatMap(({ name }) => {
    const of = quality[name]
    if (of === undefined) return []
    const { lines, unreadable, implausible, gaps, clumps } = of
    return [`${name} ${lines} (${unreadable} not readable, ${implausible} wild, ${gaps} gaps, ${clumps} clumps)`]
  })
  const seal = { intact: 'intact', broken: 'BROKEN: it does not match the bytes before it', missing: 'MISSING' }
  const end = analysis.run.end?.reason
  return [
    { label: 'File', value: outsideText(file) },
    { label: 'Id', value: outsideText(start.id) },
    { label: 'sha256 of the file', value: sha256 },
    { label: 'Seal', value: seal[damage.seal] },
    { label: 'Damaged lines', value: damage.corruptLines.length > 0 ? linesText(damage.corruptLines) : 'none' },
    { label: 'Torn', value: damage.torn ? 'yes: its last line is not whole' : 'no' },
    { label: 'Ended', value: end ?? 'no end recorded' },
    { label: 'Lines of the instruments', value: lines.join('; ') || null },
    {
      label: 'Verdict when it was recorded',
      value: recorded && words.verdictWords[recorded.verdict].word,
    },
    { label: 'Verdict of this report', value: words.verdictWords[result.verdict].word },
    { label: 'Software that recorded', value: outsideText(start.software) },
    { label: 'Software of this report', value: `makebreak ${software}` },
    { label: 'Signing key', value: signed === null ? 'not signed' : outsideText(signed.key) },
    { label: 'Signature', value: signed === null ? 'not signed' : outsideText(signed.signature) },
    { label: 'Signature checked', value: signed === null ? 'not signed' : outsideText(signed.told) },
  ]
}

function proof({ signed }: ReportInput): Section['blocks'][number] {
  const { digest, notSigned } = whatItProves
  return { kind: 'sentences', sentences: [digest, signed === null ? notSigned : whatItProves.signed] }
}
