// The built program on a terminal, with a rig that has no port at all: pressures typed, the contact keyed.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { runCommand } from '../harness/run-command.ts'
import { programPath } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { startTerminal, type Terminal } from '../harness/terminal.ts'
import { typedSession } from '../harness/typed-session.ts'

const folder = temporaryFolder()
const open: Terminal[] = []
afterEach(() => {
  for (const terminal of open.splice(0)) if (terminal.exit() === null) terminal.kill()
})

function writeSetups(): string[] {
  const [start] = typedSession({ contact: 'keyed' })
  writeFileSync(join(folder, 'part.json'), JSON.stringify(start!['part']))
  writeFileSync(join(folder, 'rig.json'), JSON.stringify(start!['rig']))
  return ['run', '--part', './part.json', '--rig', './rig.json', '--data-dir', 'typed']
}

const typedIn = (name: string) => {
  const [file] = readdirSync(join(folder, name))
  const lines = readFileSync(join(folder, name, file!), 'utf8')
    .trim()
    .split('\n')
  return lines.map((line) => JSON.parse(line.slice(9))).filter(({ type }) => type === 'typed')
}

test.each([
  ['drawn', {}],
  ['told in lines', { INK_SCREEN_READER: 'true' }],
])('what is typed is asked for, doubted where it looks wrong, and recorded; the screen is %s', async (_, reader) => {
  const args = writeSetups()
  args[args.length - 1] = `typed-${Object.keys(reader).length}`
  const home = { HOME: folder, XDG_CONFIG_HOME: join(folder, 'config'), XDG_DATA_HOME: join(folder, 'data') }
  const command = [process.execPath, programPath, ...args]
  const terminal = startTerminal(command, { folder, environment: { ...home, ...reader } })
  open.push(terminal)
  await terminal.see('of this is understood')
  terminal.key('\r')
  await terminal.see('Press c')
  terminal.key('c')
  await terminal.see('Open both')
  terminal.key('0.000\r')
  await terminal.see('Draw the first')
  terminal.key('c')
  await terminal.see('Switch made')
  terminal.key('0.250\r')
  await terminal.see('other sign')
  terminal.key('\x15-0.250\r')
  await terminal.see('Draw on')
  terminal.key('c')
  await terminal.see('Switch released')
  terminal.key('-0.190\r')
  await terminal.see('Draw the next')
  terminal.key('q')
  await terminal.see('End the test now?')
  terminal.key('\r')
  await terminal.see('Enter leave')
  terminal.key('\r')
  await terminal.until(() => terminal.exit(), 'the program to end')
  expect(terminal.exit()?.exitCode).toBe(2)
  expect(typedIn(args.at(-1)!).map(({ what, text }) => `${what} ${text}`)).toEqual([
    ...['contact open', 'zero 0.000', 'contact closed', 'make -0.250', 'contact open', 'break -0.190'],
  ])
})

test('without a terminal it is refused: nobody could type', async () => {
  const { status, err } = await runCommand(folder, [...writeSetups(), '--plain'])
  expect(status).toBe(64)
  expect(err).toContain('typed')
})
