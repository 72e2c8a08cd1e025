// The built program on a terminal, guiding a simulated hand that follows its screen: to the verdict without a key but those for cautions and leaving.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { simulatedPath } from '../../src/simulation/wire.ts'
import { programPath } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { abandonTest, startTerminal, type Terminal } from '../harness/terminal.ts'
import { until } from '../harness/until.ts'

const folder = temporaryFolder()
const open: Terminal[] = []
afterEach(() => {
  for (const terminal of open.splice(0)) if (terminal.exit() === null) terminal.kill()
})

/**
 * A bench several times as brisk as real, with a meter asked often enough to follow it, and a record of its line: strokes of two
 * seconds tell nothing of a hose of three.
 */
function writeRig(name: string, scenario: string, speed: number): string {
  const { rig } = findScenario(scenario, 1)
  const port = { ...rig.meter!.port, path: simulatedPath(scenario, 1, speed, 'screen') }
  const meter = { ...rig.meter!, port, options: { command: 'READ?', intervalMs: 50 } }
  const path = join(folder, `${name}.json`)
  mkdirSync(folder, { recursive: true })
  const proved = { at: new Date().toISOString(), hoseS: 0.002, uHoseS: 0.001, recording: 'the line alone' }
  writeFileSync(path, JSON.stringify({ ...rig, manometer: { ...rig.manometer!, port }, meter, proved }))
  return path
}

type Options = { columns?: number; rows?: number; environment?: Record<string, string>; more?: readonly string[] }

function start(name: string, rig: string, { more = [], environment = {}, ...size }: Options = {}): Terminal {
  const home = { HOME: folder, XDG_CONFIG_HOME: join(folder, 'config'), XDG_DATA_HOME: join(folder, 'data') }
  const args = ['run', '--rig', rig, '--data-dir', name, ...more]
  const terminal = startTerminal([process.execPath, programPath, ...args], {
    folder,
    environment: { ...home, ...environment },
    ...size,
  })
  open.push(terminal)
  return terminal
}

type Event = { type: string; mark?: string; by?: string; text?: string; reason?: string; result?: { verdict: string } }

/** The events of the one recording in `name`, once it is sealed. */
async function sealedEvents(name: string): Promise<Event[]> {
  let text = ''
  await until(() => {
    const [file] = readdirSync(join(folder, name))
    text = file === undefined ? '' : readFileSync(join(folder, name, file), 'utf8')
    return /"type":"seal"[^\n]*\n$/.test(text)
  }, `a sealed recording in ${name}`)
  return text
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line.slice(9)))
}

test('a whole test with two keys: cautions acknowledged, every step by itself, the verdict, and Enter leaves', {
  // On a machine so busy that the simulated instruments fall behind, a test may end undecided, and rightly so.
  retry: 2,
}, async ({ task }) => {
  const name = `whole-${task.result?.retryCount ?? 0}`
  const terminal = start(name, writeRig(name, 'good', 6), { more: ['--precondition', '1'] })
  await terminal.see('Enter understood')
  expect(terminal.screen()).toContain('Before the first stroke')
  expect(terminal.screen()).toContain('this rig can decide the part')
  expect(terminal.screen()).toContain('SIMULATED ×6')
  terminal.key('\r')
  for (const text of ['► first', '► hold', '► cycles', '► faster', '► zero']) await terminal.see(text)
  await terminal.see('Enter leave')
  expect(terminal.screen()).toContain('Within all limits, with margin')
  terminal.key('\r')
  await terminal.until(() => terminal.exit(), 'the program to end')
  expect(terminal.exit()?.exitCode).toBe(0)

  const events = await sealedEvents(name)
  const marks = events.filter((e) => e.type === 'mark')
  expect(marks.filter((m) => m.by === 'flow').map((m) => m.mark)).toEqual([
    // The plan, and that the cautions wait.
    'note',
    'note',
    'zero',
    'first-stroke',
    'precondition',
    'hold',
    'cycles',
    'note',
    'zero',
  ])
  const acknowledged = marks.filter((m) => m.by === 'operator')
  expect(new Set(acknowledged.map((m) => m.mark))).toEqual(new Set(['caution']))
  expect(acknowledged.map((m) => m.text)).toContain('mains-off')
  expect(events.find((e) => e.type === 'end')?.reason).toBe('finished')
  expect(events.find((e) => e.type === 'verdict')?.result?.verdict).toBe('pass')
  // A bell at each make and two at each break.
  expect(terminal.output().split('\x07').length).toBeGreaterThan(10)
})

test('leads on the wrong pair are caught in the first stroke with the lead to move; abandoned, the recording says so', async () => {
  const terminal = start('pair', writeRig('pair', 'nc-pair', 4), { columns: 140, rows: 45, more: ['--no-bell'] })
  await terminal.see('Enter understood')
  terminal.key('\r')
  await terminal.until(() => /leads sit on COM and NC/.test(terminal.screen()), 'the wrong pair')
  expect(terminal.screen()).toContain('lead from NC to NO, end this test with q')
  expect(terminal.screen()).not.toContain('stuck')
  await abandonTest(terminal)
  const events = await sealedEvents('pair')
  expect(events.find((e) => e.type === 'end')?.reason).toBe('abandoned')
  expect(events.filter((e) => e.mark === 'precondition')).toEqual([])
  expect(terminal.output()).not.toContain('\x07')
})

test('at every size, without colours and through a storm of sizes the hand is told what to do; a skip is recorded with its reason', async () => {
  const environment = { NO_COLOR: '1' }
  const terminal = start('sizes', writeRig('sizes', 'good', 4), { columns: 140, rows: 45, environment })
  await terminal.see('Enter understood')
  terminal.key('\r')
  await terminal.see('loop of 0 strokes')
  for (let i = 0; i < 40; i++) {
    terminal.resize(20 + ((i * 37) % 140), 5 + ((i * 13) % 45))
    await new Promise((resolve) => setTimeout(resolve, i % 4))
  }
  terminal.resize(50, 14)
  await terminal.until(() => /^-?\d\.\d+ inH2O \(/.test(terminal.line(0)), 'plain lines at 50 × 14')
  await terminal.until(() => /Next: (WAIT|DRAW|SLOWER)\. /.test(terminal.screen()), 'the action in a word')
  terminal.resize(80, 24)
  await terminal.see('► first')
  terminal.key('q')
  terminal.key('\x1b')
  terminal.resize(140, 45)
  await terminal.see('► preconditioning')
  terminal.key('s')
  await terminal.see('Why skip the step "preconditioning"?')
  terminal.key('\x1b[200~worn in\x1b[201~')
  await terminal.see('"preconditioning"? worn in')
  terminal.key('\r')
  await terminal.see('– preconditioning')
  await abandonTest(terminal)
  const events = await sealedEvents('sizes')
  expect(events.filter((e) => e.mark === 'note').map((e) => e.text)).toEqual([
    'The cautions wait to be read',
    'Skipped precondition: worn in',
  ])
  // Foreground and background colours are the SGR parameters 30 to 48 and 90 to 107 of ECMA-48.
  const parameters = terminal
    .output()
    .split('\x1b[')
    .map((part) => /^([\d;]*)m/.exec(part)?.[1] ?? '')
  expect(parameters.filter((p) => /(^|;)(3[0-8]|4[0-8]|9\d|10\d)(;|$)/.test(p))).toEqual([])
})
