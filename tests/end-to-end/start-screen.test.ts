// The built program with nothing asked for, on a terminal: its start screen, parts, and tests of a lot.
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { part, rig } from '../harness/desk-setups.ts'
import { runProgram } from '../harness/run-program.ts'
import {
  choose,
  createDesk,
  ctrlC,
  ctrlN,
  ctrlO,
  ctrlS,
  down,
  expectGivenBack,
  left,
  right,
  up,
} from '../harness/start-screen.ts'

const { newHome, start } = createDesk()

describe('the start screen', () => {
  test('offers the simulated bench first where there is no rig yet, says what a test lacks, and Enter starts it', async () => {
    const terminal = await start(newHome().home)
    expect(terminal.screen()).toContain('► Try it')
    terminal.key(`${down}\r`)
    await terminal.see('not now, no rig yet')
    terminal.key(`${up}\r`)
    await terminal.see('manometer ● open')
    expect(terminal.screen()).toMatch(/simulated/i)
    terminal.kill('SIGTERM')
    await terminal.until(() => terminal.exit(), 'the program to end')
    expect(terminal.buffer()).toBe('normal')
  })

  test('lists its keys, stays where Esc goes back from nothing, and is left by q with the terminal as it was', async () => {
    const terminal = await start(newHome().home)
    terminal.key('?')
    await terminal.see('Leave the program.')
    terminal.key('x')
    await terminal.see('► Try it')
    terminal.key('\x1b')
    // A lone Esc is told from an arrow by what does not follow it.
    await new Promise((resolve) => setTimeout(resolve, 200))
    terminal.key(down)
    await terminal.see('► Test parts')
    terminal.key('q')
    await expectGivenBack(terminal, 0)
  })

  test.each([
    ['Parts', 'No parts yet'],
    ['Rigs', 'No rigs yet'],
    ['Recordings', 'holds no recording yet'],
    ['Simulated bench', 'A good part on a good bench.'],
    ['Lesson', 'A simulated test is played.'],
    ['Settings', 'Each test report begins with them'],
  ])('leads to %s, and Ctrl-C there leaves the program with the terminal as it was', async (row, seen) => {
    const terminal = await start(newHome().home)
    await choose(terminal, row)
    await terminal.see(seen)
    terminal.key(ctrlC)
    await expectGivenBack(terminal, 0)
  })

  test('takes a storm of sizes, and shows all rows at the smallest', async () => {
    const terminal = await start(newHome().home)
    for (let i = 0; i < 30; i++) {
      terminal.resize(20 + ((i * 37) % 140), 5 + ((i * 13) % 45))
      await new Promise((resolve) => setTimeout(resolve, i % 4))
    }
    terminal.resize(50, 14)
    await terminal.until(() => terminal.line(1).startsWith(' ► Try it'), 'plain rows at 50 × 14')
    terminal.resize(80, 24)
    await terminal.until(
      () => terminal.line(2).startsWith(' ► Try it') && terminal.line(23) === '',
      'the list at 80 × 24',
    )
    await terminal.until(() => terminal.line(22).includes('Enter choose'), 'the keys in row 23')
  })

  test('is not there without a terminal, nor with options: then a test is meant', async () => {
    const { home } = newHome()
    const ended = await runProgram(home, [])
    expect(ended.out).toContain('No terminal: the test runs on the simulated bench in virtual time.')
    const terminal = await start(home, '--data-dir', 'own')
    await terminal.see('manometer ● open')
  })
})

describe('settings', () => {
  test('are typed into a form, refused with the reason, saved, and at the head of the next report', async () => {
    const { home } = newHome()
    const path = join(home, 'config', 'makebreak', 'shop.json')
    const terminal = await start(home)
    await choose(terminal, 'Settings')
    await terminal.see('Settings of the shop')
    terminal.key(`Hollin Lane${down}4 Hollin Lane${down}${down}no-logo.png${ctrlS}`)
    await terminal.see('no-logo.png is not there')
    expect(existsSync(path)).toBe(false)
    terminal.key(`${'\x7f'.repeat('no-logo.png'.length)}${down}${right}${right}${ctrlS}`)
    await terminal.see('Saved: ')
    expect(JSON.parse(readFileSync(path, 'utf8'))).toEqual({
      ...{ name: 'Hollin Lane', address: '4 Hollin Lane', paper: 'letter' },
    })
    terminal.key('\r')
    await terminal.see('► Settings')
    terminal.key('q')
    await expectGivenBack(terminal, 0)
  })
})

describe('parts', () => {
  test('a wrong value is told with its unit, mended, and saved once; the file is the one that `run` takes', async () => {
    const { home, parts } = newHome()
    const terminal = await start(home)
    await choose(terminal, 'Parts')
    await terminal.see('No parts yet')
    terminal.key(ctrlN)
    await terminal.see('New part')
    terminal.key(`dp62\tDP-62${down}${down}${down}-1`)
    await terminal.see('rated point is -1 inH2O; it must be more than 0 inH2O.')
    terminal.key(ctrlS)
    await terminal.see('Ctrl-S save: not now, rated point is -1 inH2O')
    expect(readdirSync(parts)).toEqual([])
    // Corrected in the middle: to the beginning, the sign deleted, a digit put before the point.
    terminal.key(`\x1b[H\x1b[3~\x1b[3~.25`)
    terminal.key(`${left}${left}${left}0${down}.22\t.28`)
    await terminal.see('Nothing is wrong')
    terminal.key(ctrlS)
    await terminal.see('0.25 inH2O on make')
    expect(terminal.screen()).toMatch(/Saved: \S*dp62\.json/)
    const file = join(parts, 'dp62.json')
    expect(JSON.parse(readFileSync(file, 'utf8'))).toEqual({
      ...part,
      limits: { make: { low: 0.22, high: 0.28, unit: 'inH2O' } },
    })
    // Changed by hand while the form is open: nothing is written over.
    terminal.key(ctrlO)
    await terminal.see('► dp62')
    terminal.key('\r')
    await terminal.see('Part dp62')
    writeFileSync(file, JSON.stringify(part))
    terminal.key('x')
    await terminal.see('DP-62x')
    terminal.key(ctrlS)
    await terminal.see('dp62.json was changed by somebody else since it was opened.')
    expect(JSON.parse(readFileSync(file, 'utf8'))).toEqual(part)
    terminal.key(ctrlC)
    await terminal.see('What was changed is not saved.')
    terminal.key(ctrlC)
    await expectGivenBack(terminal, 0)
  })

  test('a name that leaves the folder is refused as it is typed', async () => {
    const { home, parts } = newHome()
    const terminal = await start(home)
    await choose(terminal, 'Parts')
    await terminal.see('No parts yet')
    terminal.key(ctrlN)
    await terminal.see('New part')
    terminal.key('../x')
    await terminal.see('The name "../x" cannot be a file')
    terminal.key(`${down}${down}${down}${down}.25${ctrlS}`)
    await terminal.see('not now')
    expect(readdirSync(parts)).toEqual([])
    expect(existsSync(join(parts, '..', 'x.json'))).toBe(false)
  })
})

describe('a lot', () => {
  test('starts with a pasted serial number, states its conditions, and asks for the next; the worst verdict is the exit status', async () => {
    const { home, parts, rigs, recordings } = newHome()
    writeFileSync(join(parts, 'dp62.json'), JSON.stringify(part))
    writeFileSync(join(rigs, 'north.json'), JSON.stringify(rig))
    const terminal = await start(home)
    expect(terminal.screen()).toContain('► Test parts')
    terminal.key('\r')
    await terminal.see('0.25 inH2O on make')
    terminal.key('\r')
    await terminal.see('Test dp62 on north')
    terminal.key(`${down}21.5${down}ports down${down}8${down}${down}${down}`)
    terminal.key('\x1b[200~../../x\r\n\x1b[201~')
    await terminal.see('► serial number  ../../x')
    terminal.key('\r')
    await terminal.see('manometer ● open')
    terminal.key(ctrlC)
    await terminal.see('End the test now?')
    terminal.key(ctrlC)
    await terminal.until(
      () => terminal.screen().includes('UNDECIDED') || terminal.screen().includes('Enter leave'),
      'the verdict',
    )
    terminal.key('\r')
    await terminal.see('► serial number   _')
    expect(terminal.screen()).toContain('ports down')
    expect(terminal.screen()).toContain('Tested 1: 0 passed, 0 failed, 1 undecided; last ../../x UNDECIDED.')
    terminal.key('\x1b')
    await terminal.see('Which part?')
    terminal.key(ctrlC)
    await expectGivenBack(terminal, 2)
    const [file = '', ...others] = readdirSync(recordings)
    expect(others).toEqual([])
    expect(file).toMatch(/^\d{8}-\d{6}Z-x-\w{6}\.run$/)
    const text = readFileSync(join(recordings, file), 'utf8')
    expect(text).toContain('"conditions":{"temperatureC":21.5,"attitude":"ports down","restS":28800}')
    expect(text).toContain('"serial":"../../x"')
    expect(existsSync(join(home, 'x'))).toBe(false)
  })

  test('takes a corrected serial number before the first stroke, and a test that names the one it follows', async () => {
    const { home, parts, rigs, recordings } = newHome()
    writeFileSync(join(parts, 'dp62.json'), JSON.stringify(part))
    writeFileSync(join(rigs, 'north.json'), JSON.stringify(rig))
    // In place of a printer.
    mkdirSync(join(home, 'bin'))
    writeFileSync(join(home, 'bin', 'lp'), `#!/bin/sh\ncat > ${join(home, 'printed')}\n`, { mode: 0o755 })
    const terminal = await start(home)
    terminal.key('\r')
    await terminal.see('0.25 inH2O on make')
    terminal.key('\r')
    await terminal.see('Test dp62 on north')
    terminal.key(`${down}${down}${down}${down}Stove shop${up}${up}${up}${up}A1O47\r`)
    await terminal.see('i serial')
    terminal.key('i')
    await terminal.see('Serial number: A1O47')
    terminal.key('\x7f\x7f\x7f047\r')
    await terminal.see('serial A1047')
    await terminal.see('i serial')
    terminal.key(`${ctrlC}${ctrlC}`)
    await terminal.see('r repeat')
    const [first = ''] = readdirSync(recordings)
    expect(readdirSync(recordings)).toEqual([expect.stringMatching(/-A1047-\w{6}\.run$/)])
    expect(terminal.line(22)).toContain(first.slice(-16))
    terminal.key('r')
    await terminal.see('i serial')
    terminal.key(`${ctrlC}${ctrlC}`)
    await terminal.see('p print')
    terminal.key('p')
    await terminal.see('last A1047 UNDECIDED')
    expect(readdirSync(recordings).filter((name) => name.endsWith('-simulated-report.pdf'))).toHaveLength(1)
    expect(readFileSync(join(home, 'printed'), 'latin1')).toMatch(/^%PDF-1\.7/)
    const texts = readdirSync(recordings)
      .filter((name) => name.endsWith('.run'))
      .map((name) => JSON.parse(readFileSync(join(recordings, name), 'utf8').split('\n')[0]!.slice(9)))
      .sort((a, b) => (a.id < b.id ? -1 : 1))
    expect(texts.map(({ part, job }) => [part.serial, job])).toEqual(
      Array(2).fill(['A1047', { customer: 'Stove shop', order: null }]),
    )
    expect(texts.map(({ continues }) => continues)).toEqual([undefined, texts[0].id])
    expect(texts[1].rig).toEqual(texts[0].rig)
  })

  test('whose port is not there goes back to its serial number with that said, and leaves no recording', async () => {
    const { home, parts, rigs, recordings } = newHome()
    writeFileSync(join(parts, 'dp62.json'), JSON.stringify(part))
    const absent = JSON.stringify(rig).replaceAll('simulated:good', '/dev/nonesuch').replace('nonesuch', 'nonesuch-1')
    writeFileSync(join(rigs, 'north.json'), absent)
    const terminal = await start(home)
    terminal.key('\r')
    await terminal.see('0.25 inH2O on make')
    terminal.key('\r')
    await terminal.see('Test dp62 on north')
    terminal.key('A1047\r')
    await terminal.see('That did not work')
    expect(terminal.screen()).toMatch(/Port \/dev\/nonesuch\S* not found/)
    terminal.key('\r')
    await terminal.see('► serial number  A1047')
    expect(terminal.line(22)).toMatch(/Port \/dev\/nonesuch\S* not found/)
    expect(readdirSync(recordings)).toEqual([])
  })
})
