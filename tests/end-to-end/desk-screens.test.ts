// The built program on a terminal: recordings played, lessons given, a rig set up, each from the start screen.

import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { lessonNames } from '../../src/simulation/find-scenario.ts'
import { runCommand } from '../harness/run-command.ts'
import {
  choose,
  createDesk,
  ctrlC,
  ctrlL,
  ctrlN,
  ctrlS,
  down,
  end,
  expectGivenBack,
  right,
} from '../harness/start-screen.ts'

const { newHome, start, startAloud } = createDesk()

describe('recordings', () => {
  test('are listed with verdict and damage, opened, paused, jumped about in, and give their budget and their curve', async () => {
    const { home, recordings } = newHome()
    expect((await runCommand(home, ['simulate', 'good', '--short', '--out', recordings])).status).toBe(0)
    const whole = readFileSync(join(recordings, 'good-1.run'), 'utf8')
    writeFileSync(join(recordings, 'torn.run'), whole.slice(0, -40))
    writeFileSync(join(recordings, 'foreign.run'), 'hello\n')
    // In place of a printer.
    mkdirSync(join(home, 'bin'))
    writeFileSync(join(home, 'bin', 'lp'), '#!/bin/sh\ncat > /dev/null; echo "request id is shop-12 ($2)"\n', {
      mode: 0o755,
    })
    const terminal = await start(home)
    await choose(terminal, 'Recordings')
    await terminal.until(() => /✓ PASS +HL-Proving 1 +0417/.test(terminal.screen()), 'the verdict of the whole one')
    await terminal.until(
      () => /UNDECIDED.*\n/.test(terminal.screen()) && terminal.screen().includes('torn'),
      'the torn one',
    )
    await terminal.see('cannot be read')
    terminal.key('pass')
    await terminal.see('1 of 3')
    terminal.key('\r')
    await terminal.see('×10')
    terminal.key(` ${end}`)
    await terminal.see('Within all limits')
    terminal.key('\x1b[H')
    await terminal.see('‖ ×10  0:00')
    terminal.key(right)
    await terminal.see('‖ ×10  0:10')
    terminal.key('b')
    await terminal.see('Uncertainty budget of make')
    terminal.key('\r')
    await terminal.see('‖ ×10  0:10')
    terminal.key('c')
    await terminal.until(
      () => /Curve: 5 files, the first is \S*recordings\/good-1-pressure\.svg/.test(terminal.screen()),
      'the end of its path',
    )
    expect(existsSync(join(recordings, 'good-1-pressure.svg'))).toBe(true)
    terminal.key('p')
    await terminal.see('Printed: request id is shop-12 (good-1).')
    terminal.key('w')
    await terminal.until(
      () => /Report: \S*recordings\/good-1-simulated-report\.pdf/.test(terminal.screen()),
      'the path of the report',
    )
    expect(existsSync(join(recordings, 'good-1-simulated-report.pdf'))).toBe(true)
    terminal.key('t')
    await terminal.until(
      () => /Tag: \S*recordings\/good-1-simulated-tag\.pdf/.test(terminal.screen()),
      'the path of the tag',
    )
    expect(existsSync(join(recordings, 'good-1-simulated-tag.pdf'))).toBe(true)
    terminal.resize(50, 14)
    await terminal.until(() => terminal.line(12).startsWith(' ‖ ×10'), 'the bar at 50 × 14')
    terminal.key('q')
    await terminal.see('1 of 3')
    terminal.key(ctrlC)
    await expectGivenBack(terminal, 0)
  })
})

describe('for a screen reader', () => {
  test('a recording is told as it was made, from the list of recordings and back; lines are only added', async () => {
    const { home, recordings } = newHome()
    expect((await runCommand(home, ['simulate', 'good', '--short', '--out', recordings])).status).toBe(0)
    const terminal = await startAloud(home)
    terminal.key(`${down}${down}${down}${down}\r`)
    await terminal.see('Here: PASS  HL-Proving 1')
    terminal.key('\r')
    await terminal.see('Space pause')
    terminal.key(end)
    await terminal.see('Verdict: PASS')
    await terminal.see('Next: Simulated, no real part tested')
    terminal.key('q')
    await terminal.see('Enter open')
    terminal.key(ctrlC)
    await terminal.until(() => terminal.exit(), 'the program to end')
    const lines = terminal.output().split(/\r?\n/)
    expect(lines.filter((text) => /Stroke 3: make .*; counted\./.test(text))).toHaveLength(1)
    const sequences = terminal.output().split('\x1b').slice(1)
    expect(new Set(sequences.map((text) => text.slice(0, 7)))).toEqual(new Set(['[?2004h', '[?2004l']))
  })

  test('a lesson is told without its fault, and its faults to choose from', async () => {
    const terminal = await startAloud(newHome().home)
    terminal.key(`${down.repeat(6)}\r`)
    await terminal.see('Enter begin')
    terminal.key('\r')
    await terminal.see('Space pause')
    terminal.key(end)
    await terminal.see('n names the fault')
    expect(terminal.output()).not.toMatch(/PASS|FAIL|VOID|UNDECIDED/)
    terminal.key('n')
    // More rows than the window has: the question is further up.
    await terminal.until(() => terminal.output().includes('What is wrong with this bench?'), 'the question')
    await terminal.see('Enter choose')
    terminal.key('\r')
    await terminal.see('It was: ')
    terminal.key(ctrlC)
    await terminal.until(() => terminal.exit(), 'the program to end')
  })
})

describe('a lesson', () => {
  test('hides the fault, takes the name that the learner gives, and tells what it was with the score', async () => {
    const terminal = await start(newHome().home)
    await choose(terminal, 'Lesson')
    await terminal.see('Enter begin')
    terminal.key('\r')
    await terminal.see('n name the fault')
    terminal.key(`+++${end}`)
    await terminal.see('n names the fault')
    expect(terminal.screen()).not.toMatch(/PASS|FAIL|VOID/)
    terminal.key('n')
    await terminal.see('What is wrong with this bench?')
    terminal.key('torn')
    await terminal.see(`1 of ${lessonNames.length}`)
    terminal.key('\r')
    await terminal.see('It was: ')
    expect(terminal.screen()).toMatch(/Right\.|Close: |No: you said "The diaphragm is torn/)
    await terminal.until(
      () => /[01] of 1 fault named/.test(terminal.screen()) || terminal.screen().includes('1–'),
      'the score',
    )
    terminal.key('\x1b')
    await terminal.see('Enter choose')
    terminal.key('q')
    await expectGivenBack(terminal, 0)
  })

  test('is also a bench with a fault of one’s choice, watched', async () => {
    const terminal = await start(newHome().home)
    await choose(terminal, 'Simulated bench')
    await terminal.see('A good part on a good bench.')
    terminal.key('knocked')
    await terminal.see('► zero-moved')
    terminal.key('\r')
    await terminal.see('Watch it')
    terminal.key(`${down}\r`)
    await terminal.see('×20')
    terminal.key(end)
    await terminal.see('The zero moved by')
    terminal.key(ctrlC)
    await expectGivenBack(terminal, 0)
  })
})

describe('a rig', () => {
  test('is watched from its form: raw line beside reading, the sign proved by the pull, taken over and saved', async () => {
    const { home, rigs } = newHome()
    const terminal = await start(home)
    await choose(terminal, 'Rigs')
    await terminal.see('No rigs yet')
    terminal.key(ctrlN)
    await terminal.see('New rig')
    terminal.key(`north\tnorth bench${down}${down}${down}${down}simulated:good?seed=3`)
    await terminal.see('manometer last digit is missing')
    terminal.key(ctrlL)
    await terminal.until(() => /(-?\d\.\d{3} inH2O) +→ \1/.test(terminal.screen()), 'raw line and reading side by side')
    await terminal.see('✓ sign')
    expect(terminal.screen()).toContain('-1: the pull was shown as -')
    expect(terminal.screen()).toContain('last digit 0.001 inH2O')
    terminal.key('\r')
    await terminal.see('! meter port is empty; a test needs it.')
    expect(terminal.screen()).toContain('! manometer accuracy is not stated; without it a test is not assessed.')
    terminal.key(ctrlS)
    await terminal.until(() => /Saved: \S*north\.json/.test(terminal.screen()), 'where it was saved')
    await terminal.see('manometer ascii-line at simulated:good?seed=3')
    const saved = JSON.parse(readFileSync(join(rigs, 'north.json'), 'utf8'))
    expect(saved.manometer).toEqual({
      suctionSign: -1,
      driver: 'ascii-line',
      port: { path: 'simulated:good?seed=3' },
      digit: { value: 0.001, unit: 'inH2O' },
    })
  })
})
