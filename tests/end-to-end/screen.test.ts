// The built program on a terminal: the live screen over a simulated bench, and what is on disk however it ends.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { runCommand } from '../harness/run-command.ts'
import { programPath } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { startTerminal, type Terminal } from '../harness/terminal.ts'
import { until } from '../harness/until.ts'

const folder = temporaryFolder()
const open: Terminal[] = []
afterEach(() => {
  for (const terminal of open.splice(0)) if (terminal.exit() === null) terminal.kill()
})

function start(...args: string[]): Terminal {
  const home = { HOME: folder, XDG_CONFIG_HOME: join(folder, 'config'), XDG_DATA_HOME: join(folder, 'data') }
  const terminal = startTerminal([process.execPath, programPath, ...args], { folder, environment: home })
  open.push(terminal)
  return terminal
}

/** Text of the one recording in `name`, once it ends in a seal. */
async function sealedText(name: string): Promise<string> {
  let text = ''
  await until(() => {
    const file = readdirSync(join(folder, name)).find((each) => each.endsWith('.run'))
    text = file === undefined ? '' : readFileSync(join(folder, name, file), 'utf8')
    return /"type":"seal"[^\n]*\n$/.test(text)
  }, `a sealed recording in ${name}`)
  return text
}

const endReason = (text: string) => /"type":"end".*"reason":"([\w-]+)"/.exec(text)?.[1]

test('with no arguments it opens the live screen over the simulated bench; ended early it gives a verdict, the path and the tag that was asked for', async () => {
  const terminal = start('--data-dir', 'early')
  await terminal.see('manometer ● open')
  await terminal.see('meter ● open')
  await terminal.see('this rig can decide the part')
  expect(terminal.buffer()).toBe('alternate')
  expect(terminal.screen()).toMatch(/simulated/i)
  await terminal.see(' z zero')
  terminal.key('z')
  terminal.key('q')
  await terminal.see('End the test now?')
  terminal.key('\r')
  await terminal.see('Enter leave')
  terminal.key('t')
  await terminal.until(() => terminal.exit(), 'the program to end')
  expect(terminal.exit()?.exitCode).toBe(2)
  expect(terminal.buffer()).toBe('normal')
  await terminal.until(() => /Tag: \S*-simulated-tag\.pdf/.test(terminal.screen().replaceAll(/\s*\n/g, '')), 'the tag')
  await terminal.see('Verdict: UNDECIDED')
  await terminal.see('Recording: ')
  const text = await sealedText('early')
  expect(endReason(text)).toBe('finished')
  expect(text).toContain('"mark":"zero","by":"operator"')
  expect(text).toContain('"simulated":true')
})

test.each(['SIGKILL', 'SIGHUP', 'SIGTERM'])(
  'when %s ends it, the recording is abandoned and sealed',
  async (signal) => {
    const terminal = start('--data-dir', signal)
    await terminal.see('manometer ● open')
    terminal.kill(signal)
    await terminal.until(() => terminal.exit(), 'the program to end')
    expect(endReason(await sealedText(signal))).toBe('abandoned')
  },
)

test('a recording is watched again on the screen, and whoever leaves early gets its verdict', async () => {
  expect((await runCommand(folder, ['simulate', 'good', '--short', '--out', 'watched'])).status).toBe(0)
  const terminal = start('replay', join('watched', 'good-1.run'), '--watch', '--speed', '0.1')
  await terminal.see('manometer ● open')
  await terminal.see('×0.1')
  expect(terminal.buffer()).toBe('alternate')
  terminal.key('q')
  await terminal.until(() => terminal.exit(), 'the program to end')
  expect(terminal.exit()?.exitCode).toBe(0)
  await terminal.see('Verdict: PASS')
})
