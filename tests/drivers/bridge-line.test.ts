// The reference sketch of a board: compiled as a user would, run on a stub of the board, and its lines read by the driver.
import { spawnSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { beforeAll, expect, test } from 'vitest'
import { driver as boardLines } from '../../drivers/bridge-line.ts'
import { received } from '../../src/contract/chunks.ts'
import { runDriver } from '../../src/contract/run-driver.ts'
import type { Driver } from '../../src/driver.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const sketch = readFileSync(new URL('../../drivers/bridge-line/bridge-line.ino', import.meta.url), 'utf8')
const board = fileURLToPath(new URL('board', import.meta.url))
const driver = boardLines as Driver
const folder = temporaryFolder()
const program = join(folder, 'board')

/** What the compiler says of a sketch; empty where it builds without a warning. */
function compiled(text: string): string {
  const file = join(folder, 'sketch.ino')
  writeFileSync(file, text)
  const warnings = ['-Wall', '-Wextra', '-Wconversion', '-Wshadow', '-Werror']
  const args = ['-std=c++17', ...warnings, '-I', board, '-include', 'board.h', '-x', 'c++', file]
  const { stderr, error } = spawnSync('g++', [...args, join(board, 'main.cpp'), '-o', program], { encoding: 'utf8' })
  if (error)
    throw new Error(`The compiler g++ does not start (${error.message}). Install it, such as by apt-get install g++.`)
  return stderr
}

/** Lines of the board for answers of its sensor; its clock begins at `startUs`. */
function sent(answers: readonly string[], startUs: number): string {
  const { stdout, stderr } = spawnSync(program, [String(startUs)], { input: answers.join('\n'), encoding: 'latin1' })
  expect(stderr).toBe('')
  return stdout
}

let said: { asItIs: string; filledIn: string }
beforeAll(() => {
  const filled = sketch
    .replace('sensorAddress = 0;', 'sensorAddress = 0x40;')
    .replace('stepsPerPascal = 0;', 'stepsPerPascal = 60;')
  said = { asItIs: compiled(sketch), filledIn: compiled(filled) }
})

test('The sketch does not compile before its constants are filled in.', () => {
  expect(said.asItIs).toContain('Fill in the constants of your sensor first.')
})

test('Filled in, it compiles without a warning, and the driver reads what it sends, its clock once round.', () => {
  expect(said.filledIn).toBe('')
  const answers = ['-3741 0 1', '3741 1 0', '- 0 0', '32767 1 1', '-32768 1 0', '0 0 0', '-1 0 0', '-59 1 1']
  const bytes = `\n${sent(answers, 2 ** 32 - 7000)}`
  const read = (contact: string) => runDriver(driver, { role: 'bridge', options: { contact } }, [received(bytes)])
  const { readings, faults } = read('1')
  expect(faults).toEqual([])
  const of = (quantity: string) => readings.filter((r) => r.quantity === quantity)
  const infinite = Number.POSITIVE_INFINITY
  expect(of('pressure').map((r) => r.value)).toEqual([-62.35, 62.35, Number.NaN, infinite, -infinite, 0, -0.02, -0.98])
  expect(of('contact').map((r) => r.value)).toEqual([0, 1, 0, 1, 1, 0, 0, 1])
  const second = read('2').readings.filter((r) => r.quantity === 'contact')
  expect(second.map((r) => r.value)).toEqual([1, 0, 0, 1, 0, 0, 0, 1])
  const deviceUs = of('pressure').map((r) => r.deviceUs!)
  // Each 5 ms, and later by no more than the line that was still going out.
  for (const [i, atUs] of deviceUs.entries()) {
    expect(atUs - 2 ** 32 + 7000 - 5000 * i).toBeGreaterThanOrEqual(0)
    expect(atUs - 2 ** 32 + 7000 - 5000 * i).toBeLessThan(4000)
  }
})

test('Its lines are whole whatever the sensor says: ten thousand in a row, none refused.', () => {
  const answers = Array.from({ length: 10_000 }, (_, i) => `${((i * 7919) % 65_536) - 32_768} ${i % 2} ${(i >> 1) % 2}`)
  const { readings, faults } = runDriver(driver, { role: 'bridge' }, [received(`\n${sent(answers, 0)}`)])
  expect(faults).toEqual([])
  expect(readings).toHaveLength(20_000)
})
