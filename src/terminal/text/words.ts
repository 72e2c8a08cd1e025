// The states of a run and the codes of a result into the words and signs a person reads.
import type { Action } from '../../core/guide/guidance.ts'
import type { FindingEffect, LimitResult, Outcome, Result, Verdict, WhyNot } from '../../core/model/result.ts'
import type { ContactState } from '../../core/model/samples.ts'
import type { StepName } from '../../core/plan/test-steps.table.ts'
import type { Live, Phase } from '../../core/view/live.ts'
import type { Tone } from './line.ts'

export const phaseWords: Record<Phase, string> = {
  waiting: 'waiting for readings',
  zero: 'zero',
  'first-stroke': 'first stroke',
  precondition: 'preconditioning',
  cycles: 'cycles',
  'fast-cycles': 'faster strokes',
  hold: 'hold',
  pinch: 'pinch',
  'closing-zero': 'closing zero',
  ended: 'ended',
}

export const stepWords: Record<StepName, string> = {
  cautions: 'cautions',
  zero: 'zero',
  'first-stroke': 'first stroke',
  precondition: 'preconditioning',
  cycles: 'cycles',
  'fast-cycles': 'faster strokes',
  hold: 'hold',
  pinch: 'pinch',
  'closing-zero': 'closing zero',
  verdict: 'verdict',
}

/** The same where room is scarce. */
export const shortStepWords: Record<StepName, string> = {
  ...stepWords,
  'first-stroke': 'first',
  precondition: 'precond.',
  'fast-cycles': 'faster',
  'closing-zero': 'zero',
}

export const actionWords: Record<Action, { word: string; tone: Tone }> = {
  read: { word: 'READ', tone: 'warn' },
  wait: { word: 'WAIT', tone: 'accent' },
  draw: { word: 'DRAW', tone: 'good' },
  slower: { word: 'SLOWER', tone: 'warn' },
  faster: { word: 'FASTER', tone: 'warn' },
  hold: { word: 'HOLD', tone: 'warn' },
  'let-down': { word: 'LET DOWN', tone: 'good' },
  vent: { word: 'VENT', tone: 'accent' },
  stop: { word: 'STOP', tone: 'alarm' },
  lost: { word: 'LOST', tone: 'alarm' },
  type: { word: 'TYPE', tone: 'warn' },
  done: { word: 'DONE', tone: 'good' },
}

/** `big` in capitals on the screen, `full` in a sentence. */
export const contactWords: Record<ContactState, { big: string; full: string }> = {
  unknown: { big: '?', full: 'contact unknown' },
  closed: { big: 'CLOSED', full: 'contact closed' },
  open: { big: 'OPEN', full: 'contact open' },
  'no-closed': { big: 'AT NO', full: 'NO closed, NC open' },
  'nc-closed': { big: 'AT NC', full: 'NC closed, NO open' },
  neither: { big: 'NEITHER', full: 'NO and NC both open' },
  both: { big: 'BOTH', full: 'NO and NC both closed' },
  'lead-off': { big: 'LEAD OFF', full: 'a lead is off' },
  shorted: { big: 'SHORTED', full: 'leads shorted together' },
}

/** The switch's own position in a word. */
export const positionWord = (actuated: boolean | null): string =>
  actuated === null ? 'position unknown' : actuated ? 'actuated' : 'at rest'

export const linkWords: Record<Live['links'][number]['state'], { sign: string; word: string; tone: Tone }> = {
  waiting: { sign: '○', word: 'waiting', tone: 'warn' },
  open: { sign: '●', word: 'open', tone: 'good' },
  lost: { sign: '✗', word: 'LOST', tone: 'bad' },
  typed: { sign: '○', word: 'typed by hand', tone: 'warn' },
}

export const verdictWords: Record<Verdict, { word: string; sign: string; tone: Tone }> = {
  pass: { word: 'PASS', sign: '✓', tone: 'good' },
  fail: { word: 'FAIL', sign: '✗', tone: 'bad' },
  undecided: { word: 'UNDECIDED', sign: '?', tone: 'warn' },
  void: { word: 'VOID', sign: '!', tone: 'bad' },
  'not-assessed': { word: 'NOT ASSESSED', sign: '–', tone: 'accent' },
}

export const outcomeWords: Record<Outcome, { word: string; sign: string; tone: Tone }> = {
  pass: { word: 'pass', sign: '✓', tone: 'good' },
  fail: { word: 'fail', sign: '✗', tone: 'bad' },
  undecided: { word: 'undecided', sign: '?', tone: 'warn' },
  'not-assessed': { word: 'not assessed', sign: '–', tone: 'dim' },
}

/** Whether the outcome of a single limit may be shown: a test that is void or whose recording is damaged decides none. */
export const showsOutcomes = ({ verdict, damage }: Pick<Result, 'verdict' | 'damage'>): boolean =>
  verdict !== 'void' && !damage.torn && damage.seal !== 'broken' && damage.corruptLines.length === 0

/** An outcome in a word; one that is open because nothing was measured says that instead. */
export const outcomeWord = (outcome: Outcome, measured: boolean, ended: boolean): string =>
  outcome === 'undecided' && !measured ? (ended ? 'not measured' : 'not yet') : outcomeWords[outcome].word

export const effectWords: Record<FindingEffect, { word: string; tone: Tone }> = {
  void: { word: 'voids the test', tone: 'bad' },
  fail: { word: 'fails the part', tone: 'bad' },
  undecided: { word: 'leaves it undecided', tone: 'warn' },
  note: { word: 'note', tone: 'accent' },
}

export const limitNames: Record<LimitResult['name'], string> = {
  make: 'make',
  break: 'break',
  differential: 'differential',
  contact: 'contact',
  'first-make': 'first make',
  'first-break': 'first break',
}

const whyWords: Record<WhyNot, string> = {
  'first-stroke': 'first stroke',
  precondition: 'preconditioning',
  discarded: 'discarded',
  reversal: 'reversed',
  gap: 'gap in readings',
  'too-fast': 'too fast',
  frozen: 'reading frozen',
  'unit-changed': 'unit changed',
  chatter: 'chatter',
  'no-make': 'no make',
  'no-break': 'no break',
}

/** Whether and why a cycle counts. */
export const cycleWord = (cycle: { used: boolean; why: WhyNot | null }): string =>
  cycle.used ? 'counted' : cycle.why === null ? 'not counted' : whyWords[cycle.why]

/** Seconds as `2:04` or `1:02:04`; null or a negative time as `0:00`. */
export function clockText(elapsedS: number): string {
  const whole = Math.max(0, Math.floor(elapsedS))
  const two = (n: number) => String(n).padStart(2, '0')
  const hours = Math.floor(whole / 3600)
  const minutes = Math.floor(whole / 60) % 60
  return hours > 0 ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`
}
