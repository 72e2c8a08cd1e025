// The live screen in a real pseudo-terminal: keys, resizing, signals, and what is left of the terminal afterwards.
import { fileURLToPath } from 'node:url'
import { afterEach, describe, expect, test } from 'vitest'
import { startTerminal, type Terminal } from '../harness/terminal.ts'

const script = fileURLToPath(new URL('sample-screen.ts', import.meta.url))
const open: Terminal[] = []

function start(kind: string, options: Parameters<typeof startTerminal>[1] = {}): Terminal {
  const terminal = startTerminal([process.execPath, script, kind], options)
  open.push(terminal)
  return terminal
}

afterEach(() => {
  for (const terminal of open.splice(0)) if (terminal.exit() === null) terminal.kill()
})

/** The terminal as a shell finds it again: the first screen, the cursor shown, pastes plain. */
async function expectGivenBack(terminal: Terminal, exitCode: number): Promise<void> {
  await terminal.until(() => terminal.exit(), 'the program to end')
  await terminal.see('left by')
  expect(terminal.exit()?.exitCode).toBe(exitCode)
  expect(terminal.buffer()).toBe('normal')
  const output = terminal.output()
  expect(output.lastIndexOf('\x1b[?25h')).toBeGreaterThan(output.lastIndexOf('\x1b[?25l'))
  expect(output.lastIndexOf('\x1b[?2004l')).toBeGreaterThan(output.lastIndexOf('\x1b[?2004h'))
}

describe('the live screen', () => {
  test('at 80 × 24 shows pressure, contact, trace, cycles, links and keys on a screen of its own', async () => {
    const terminal = start('still')
    await terminal.see('? help')
    expect(terminal.buffer()).toBe('alternate')
    for (const text of ['► Draw slowly', '45.5 Pa', 'contact open', '▲≤0.28│', '✓ counted', 'manometer ● open'])
      expect(terminal.screen()).toContain(text)
    expect(terminal.line(23)).toBe('')
  })

  test('marks go out as keys are pressed, several in one piece too, and a note as typed and pasted', async () => {
    const terminal = start('still')
    await terminal.see('? help')
    terminal.key('zd')
    await terminal.see('Marked: Discard')
    terminal.key('n')
    await terminal.see('Note:')
    terminal.key('lot ')
    terminal.key('\x1b[200~A7\x1b[201~')
    await terminal.see('Note: lot A7')
    terminal.key('\r')
    await terminal.see('Noted: lot A7')
    terminal.key('\x1b[200~qa\x1b[201~')
    await terminal.see('Pasted text was ignored')
    terminal.key('q')
    await terminal.see('End the test now?')
    terminal.key('\r')
    await terminal.see('Within all limits, with margin')
    terminal.key('\r')
    await expectGivenBack(terminal, 0)
    expect(terminal.screen()).toContain('left by key; asked: zero discard-cycle note:lot A7 finished')
  })

  test('Ctrl-C asks, a second one abandons, and the terminal comes back with its cursor', async () => {
    const terminal = start('running')
    await terminal.see('? help')
    terminal.key('\x03')
    await terminal.see('End the test now?')
    terminal.key('\x03')
    await terminal.see('Enter leave')
    terminal.key('\x03')
    await expectGivenBack(terminal, 0)
    expect(terminal.screen()).toContain('left by key; asked: abandoned')
  })

  test('SIGTERM gives the terminal back', async () => {
    const terminal = start('running')
    await terminal.see('? help')
    terminal.kill('SIGTERM')
    await expectGivenBack(terminal, 0)
    expect(terminal.screen()).toContain('left by signal')
  })

  test('a storm of sizes leaves a whole screen of the last one', async () => {
    const terminal = start('running')
    await terminal.see('? help')
    for (let i = 0; i < 40; i++) {
      terminal.resize(20 + ((i * 37) % 140), 5 + ((i * 13) % 45))
      await new Promise((resolve) => setTimeout(resolve, i % 4))
    }
    terminal.resize(50, 14)
    await terminal.until(() => /^\d\.\d+ inH2O \(/.test(terminal.line(0)), 'plain lines at 50 × 14')
    terminal.resize(140, 45)
    await terminal.see('closing zero')
    await terminal.see('findings: none')
    terminal.resize(80, 24)
    await terminal.until(() => terminal.line(0).includes('certify HT-25 T0042'), 'the header in the first row')
    await terminal.until(() => terminal.line(22).includes('? help') && terminal.line(23) === '', 'the keys in row 23')
    expect(terminal.line(21)).toContain('manometer ● open')
  })

  test('text from instruments and part files reaches the terminal as harmless characters', async () => {
    const terminal = start('hostile', { columns: 140, rows: 45 })
    await terminal.see('? help')
    expect(terminal.screen()).toContain('\\u001b[31mred\\u001b[2J\\u001b]0;title\\u0007')
    for (const sequence of ['\x1b[2J', '\x1b]0;', '\x9b', '\u202e', '\x07', '\0'])
      expect(terminal.output()).not.toContain(sequence)
  })

  test('with NO_COLOR nothing is coloured and an alarm still stands out', async () => {
    const terminal = start('hostile', { columns: 140, rows: 45, environment: { NO_COLOR: '1' } })
    await terminal.see('? help')
    expect(terminal.style('! \\u001b')).toMatchObject({ fg: 'default', bg: 'default', bold: true, inverse: true })
    // Foreground and background colours are the SGR parameters 30 to 48 and 90 to 107 of ECMA-48.
    const parameters = terminal
      .output()
      .split('\x1b[')
      .map((part) => /^([\d;]*)m/.exec(part)?.[1] ?? '')
    expect(parameters.filter((p) => /(^|;)(3[0-8]|4[0-8]|9\d|10\d)(;|$)/.test(p))).toEqual([])
  })

  test('with colours only the sixteen basic ones are used', async () => {
    const terminal = start('hostile', { columns: 140, rows: 45, environment: { COLORTERM: 'truecolor' } })
    await terminal.see('? help')
    expect(terminal.style('! \\u001b')).toMatchObject({ fg: 'p1', bold: true, inverse: true })
    expect(terminal.output()).not.toMatch(/\[[34]8;/)
  })

  test('read aloud it only adds lines: no cursor moves, nothing is cleared, nothing said twice; the keys work', async () => {
    const terminal = start('running', { columns: 100, rows: 80, environment: { INK_SCREEN_READER: 'true' } })
    await terminal.see('Contact open: at rest.')
    // A stroke of the sample goes on meanwhile.
    await terminal.until(() => terminal.output().match(/good pace/g)?.length === 2, 'numbers twice')
    terminal.key('n')
    await terminal.see('Enter keeps it, Esc drops it. Note:')
    terminal.key('lot ')
    terminal.key('\x1b[200~A7\x1b[201~')
    terminal.key('\x1b[A\r')
    await terminal.see('Noted: lot A7')
    terminal.key('?')
    await terminal.see('d: Discard the stroke in progress')
    terminal.key('q')
    await terminal.see('Enter: finish and judge')
    terminal.key('\r')
    await terminal.see('Enter leaves.')
    expect(terminal.screen()).toContain('Verdict: PASS')
    terminal.key('\r')
    await terminal.see('left by key; asked: note:lot A7 finished')
    const [, ...sequences] = terminal.output().split('\x1b')
    // Bracketed paste on and off, as xterm has it, and nothing else.
    expect(sequences.map((text) => text.slice(0, 7))).toEqual(['[?2004h', '[?2004l'])
    const lines = terminal
      .output()
      .split('\r\n')
      .filter((line) => !line.startsWith('Note, '))
    const told = lines.filter((line) => line !== '')
    expect(new Set(told).size).toBe(told.length)
    expect(told.join('')).not.toMatch(/[✓✗●▲▼━]/)
  })

  test('a replay is left at once by q and takes no marks', async () => {
    const terminal = start('replay')
    await terminal.see('? help')
    terminal.key('z')
    await terminal.see('not now, this is a recording played back')
    terminal.key('q')
    await expectGivenBack(terminal, 0)
    expect(terminal.screen()).toContain('left by key; asked:')
  })
})
