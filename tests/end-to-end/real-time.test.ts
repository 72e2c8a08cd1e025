// A whole test in real time: simulated instruments on pseudo-terminals, opened through serialport, recorded, decided, replayed.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { truthOf } from '../../src/simulation/scenario.ts'
import { runCommand } from '../harness/run-command.ts'
import { startProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()

// A bench five times as brisk needs about 40 s; its hand holds nothing, so the hold is waited for and skipped.
test('served instruments are tested to a verdict, and the recording replays to the same result', {
  // On a machine so busy that the simulated instruments fall behind, a test may end undecided, and rightly so.
  retry: 2,
}, async () => {
  const bench = ['good', '--seed', '4', '--short', '--serve', '--speed', '5', '--out', 'bench']
  const server = startProgram(folder, ['simulate', ...bench])
  while (!server.out().includes('Ctrl-C')) await new Promise((done) => setTimeout(done, 20))
  const [, command = ''] = / (run --part .*)/.exec(server.out()) ?? []

  const program = startProgram(folder, [...command.split(' '), '--plain', '--data-dir', 'data'])
  onTestFinished(() => {
    for (const { child } of [server, program]) child.kill('SIGKILL')
  })
  const ended = await program.ended
  server.child.kill('SIGINT')
  expect((await server.ended).status).toBe(0)
  expect(ended.err).toBe('')
  expect(ended.out).toMatch(/^Verdict: PASS$/m)
  expect(ended.status).toBe(0)

  const path = /^Recording: (.*)$/m.exec(ended.out)?.[1] ?? ''
  expect(path.startsWith(join(folder, 'data'))).toBe(true)
  const events = readFileSync(path, 'utf8')
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line.slice(9)))
  expect(events[0]).toMatchObject({ type: 'start', simulated: false })
  const replayed = await runCommand(folder, ['replay', path, '--json'])
  const { file: _, ...result } = JSON.parse(replayed.out)
  const said = events.find((event) => event.type === 'verdict').result
  // Only replay can know what was said then.
  expect(result).toEqual({ ...said, recorded: { verdict: said.verdict, software: expect.any(String) } })
  expect(result.findings).toEqual([])

  // Nothing told the program where the switch really trips.
  const truth = truthOf(findScenario('good', 4))
  expect(Math.abs(result.make.valuePa - (truth.makePa ?? 0))).toBeLessThan(result.make.UPa)
  expect(Math.abs(result.break.valuePa - (truth.breakPa ?? 0))).toBeLessThan(result.break.UPa)
})
