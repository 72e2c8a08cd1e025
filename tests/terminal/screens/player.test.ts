// The player of a recording: time, pace, jumps, and what is hidden in a lesson.
import { describe, expect, test } from 'vitest'
import type { Live } from '../../../src/core/view/live.ts'
import { grade, hideFault, revealTexts, scored, scoreText } from '../../../src/terminal/screens/lesson.ts'
import {
  advance,
  barLine,
  createPlayer,
  lessonKeys,
  playerState,
  recordingKeys,
} from '../../../src/terminal/screens/player.ts'
import { damageText, recordingRow } from '../../../src/terminal/screens/recording-row.ts'
import { bareText } from '../../../src/terminal/text/line.ts'
import { sampleStart } from '../../harness/sample-start.ts'
import { sampleLive, samplePart, sampleResult } from '../sample-lives.ts'
import { pressAll, rowsOf } from './press.ts'

const spec = { part: samplePart, title: 'HT-25 T0042', simulated: true, dots: 'braille', calm: false } as const
const player = createPlayer({ ...spec, own: recordingKeys })
const lesson = createPlayer({ ...spec, own: lessonKeys })
const start = playerState(120, 10)

describe('a recording that is played', () => {
  test('goes on at its pace and stops at its end', () => {
    expect(advance(start, 2).atS).toBe(20)
    expect(advance(start, 60)).toMatchObject({ atS: 120, playing: false })
    expect(advance({ ...start, playing: false }, 2).atS).toBe(0)
  })
  test('stops with the space bar, and begins anew where it was at its end', () => {
    expect(pressAll(player, start, ' ').own.playing).toBe(false)
    expect(pressAll(player, advance(start, 60), ' ').own).toMatchObject({ playing: true, atS: 0 })
  })
  test('is jumped about in, never out of', () => {
    const at = { ...start, atS: 50 }
    expect(pressAll(player, at, 'left', 'left').own.atS).toBe(30)
    expect(pressAll(player, at, 'right').own.atS).toBe(60)
    expect(pressAll(player, at, 'page-up').own.atS).toBe(0)
    expect(pressAll(player, at, 'page-down', 'page-down').own.atS).toBe(120)
    expect(pressAll(player, at, 'home').own.atS).toBe(0)
    expect(pressAll(player, at, 'end').own.atS).toBe(120)
  })
  test('is faster and slower between ×1 and ×100, and says when it can be no more', () => {
    expect(pressAll(player, start, 'up').own.speed).toBe(20)
    expect(pressAll(player, start, 'down').own.speed).toBe(5)
    expect(pressAll(player, start, '+', '+', '+', '+')).toMatchObject({
      own: { speed: 100 },
      said: '↑ faster: not now, it is the fastest there is.',
    })
    expect(pressAll(player, { ...start, speed: 1 }, '-').said).toContain('slowest')
    // A pace from the command line need not be one of the steps.
    expect(pressAll(player, { ...start, speed: 15 }, 'up').own.speed).toBe(20)
  })
  test('asks for the budget, the curve, the report, the tag and to be left; in a lesson only for the name of the fault', () => {
    const asked = ['budget', 'curve', 'report', 'print-report', 'tag', 'back']
    expect(pressAll(player, start, 'b', 'c', 'w', 'l', 't', 'n', 'q').asked).toEqual(asked)
    expect(pressAll(lesson, start, 'b', 'c', 'w', 'l', 't', 'n', 'escape').asked).toEqual(['name', 'back'])
  })
  test('shows the bench screen with a bar for its time, within every size', () => {
    const state = { ...start, atS: 60, live: sampleLive(60) }
    const shown = rowsOf(player, state)
    expect(shown.at(-1)).toBe(` ▶ ×10  1:00 ${'━'.repeat(30)}●${'─'.repeat(30)} 2:00`)
    expect(shown.at(-2)).toContain('Space pause')
    expect(shown.join('\n')).toContain('inH2O')
    for (const [columns, height] of [
      [140, 45],
      [50, 14],
      [20, 5],
      [8, 2],
    ] as const) {
      const rows = rowsOf(player, state, columns, height)
      for (const row of rows) expect(row.length).toBeLessThanOrEqual(columns)
    }
    expect(bareText(barLine({ ...start, endS: 0 }, 12)).length).toBeLessThanOrEqual(12)
  })
})

const good = { name: 'good', title: 'A good part.', findings: [], side: null }
const frozen = { name: 'frozen-display', title: 'The display stands still.', findings: ['frozen-reading'], side: null }
const held = { name: 'display-held', title: 'The hold key is down.', findings: ['frozen-reading'], side: null }
const off = { name: 'off-high', title: 'It makes at too much draft.', findings: ['off-rating'], side: 'high' as const }
const unsafe = {
  name: 'off-low',
  title: 'It makes at too little draft.',
  findings: ['off-rating'],
  side: 'low' as const,
}

describe('a lesson', () => {
  test('shows nothing that names the fault: no finding, alarm, advice, reason or verdict', () => {
    const result = sampleResult(9)
    const finding = { code: 'frozen-reading', effect: 'void' as const, text: 'The display stood still.', evidence: {} }
    const cycles = result.cycles.map((c) => ({ ...c, used: false, why: 'frozen' as const }))
    const open = sampleLive(200, {
      phase: 'ended',
      alarm: 'The display stands still.',
      next: 'Move the display.',
      result: { ...result, verdict: 'void', findings: [finding], cycles },
    })
    const hidden = hideFault(open)
    for (const text of ['frozen', 'still', 'void', 'Move']) expect(JSON.stringify(hidden)).not.toContain(text)
    expect(hidden.phase).not.toBe('ended')
    expect(hidden.result!.cycles.map((c) => c.makePa)).toEqual(cycles.map((c) => c.makePa))
    for (const [columns, rows] of [
      [80, 24],
      [140, 45],
      [50, 14],
    ] as const) {
      const text = rowsOf(lesson, { ...start, live: hidden }, columns, rows).join('\n')
      expect(text).not.toMatch(/frozen|stood still|VOID/)
      expect(text).not.toContain('none')
    }
  })
  test('shows no sign of what its limits come to', () => {
    const open = sampleLive(200)
    const outcome = /[✓✗?] +(make|break|diff)/
    expect(open.result!.limits.map((limit) => limit.outcome)).toContain('pass')
    const shown = (live: Live) => rowsOf(lesson, { ...start, live }).join('\n')
    expect(shown(open)).toMatch(outcome)
    expect(shown(hideFault(open))).not.toMatch(outcome)
  })
  test('tells right from close from wrong, and counts only what was named outright', () => {
    expect([grade(off, off), grade(held, frozen), grade(off, frozen), grade(good, off)]).toEqual([
      'right',
      'close',
      'wrong',
      'wrong',
    ])
    // The same finding, and the other meaning: one burns without draft, the other does not burn.
    expect([grade(off, unsafe), grade(unsafe, off)]).toEqual(['wrong', 'wrong'])
    const score = ['right', 'close', 'wrong'].reduce((s, how) => scored(s, how as 'right'), { named: 0, rounds: 0 })
    expect(scoreText(score)).toBe('1 of 3 faults named, since the program was started.')
  })
  test('reveals the fault with what the recording shows of it, the truth and the score', () => {
    const finding = {
      code: 'off-rating',
      effect: 'fail' as const,
      text: 'It makes above its limit. Set it or reject it.',
      evidence: {},
    }
    const result = { ...sampleResult(9), verdict: 'fail' as const, findings: [finding] }
    const revealed = {
      named: good,
      truth: off,
      result,
      part: samplePart,
      truePa: { makePa: 62.3, breakPa: null },
      score: { named: 0, rounds: 1 },
    }
    const text = revealTexts(revealed).join('\n')
    for (const part of [
      'No: you said "A good part."',
      'It was: It makes at too much draft.',
      'off-rating: It makes above its limit. Set it',
      'FAIL',
      'true 0.2501 inH2O (62.30 Pa)',
      'Break: it never broke, ',
      '0 of 1 fault named',
    ])
      expect(text).toContain(part)
    expect(revealTexts({ ...revealed, named: off })[0]).toBe('Right.')
    // The finding is the reason, and is told once.
    const voided = { ...result, verdict: 'void' as const, findings: [{ ...finding, effect: 'void' as const }] }
    const told = revealTexts({ ...revealed, result: voided })
    expect(told.join('\n').split('It makes above its limit.')).toHaveLength(2)
    expect(told).toContain('The verdict is VOID.')
    const none = { ...result, make: { ...result.make, valuePa: null } }
    expect(revealTexts({ ...revealed, result: none, truePa: { makePa: null, breakPa: null } })).toContain(
      'Make: it never made, none was measured.',
    )
  })
})

describe('a recording in the list', () => {
  test('shows verdict, part, serial number, date, and damage only where there is some', () => {
    const result = { ...sampleResult(9), verdict: 'pass' as const }
    const start = { ...sampleStart, type: 'start', format: 1, at: '2027-03-14T09:15:00.000Z' } as const
    const row = recordingRow({ ...start, part: { ...start.part, serial: 'A1047' } }, result, 'x.run')
    expect(row.cells).toEqual(['✓ PASS', 'DP-62', 'A1047', '2027-03-14 09:15Z', ''])
    expect(recordingRow({ ...start, simulated: true }, result, 'x.run').cells.slice(2)).toEqual([
      ...['no serial', '2027-03-14 09:15Z', 'simulated'],
    ])
    const before = {
      ...result,
      verdict: 'undecided' as const,
      recorded: { verdict: 'pass' as const, software: '0.1.0' },
    }
    expect(recordingRow(start, before, 'x.run').cells.at(-1)).toBe('verdict changed')
    expect(recordingRow(start, before, 'x.run').about?.[0]).toBe('x.run, recorded PASS by 0.1.0, now UNDECIDED')
    const damage = { torn: true, corruptLines: [4, 5], seal: 'broken' as const }
    expect(damageText({ damage })).toBe('2 damaged lines, torn, seal broken')
    expect(damageText({ damage: { torn: false, corruptLines: [], seal: 'missing' } })).toBe('no seal')
  })
})
