// `capability` and `plan-bench` as a user meets it: what it says of a good and of a poor manometer, its exit statuses, and bad input.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { runCommand } from '../harness/run-command.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const write = (name: string, value: object) => writeFileSync(join(folder, name), JSON.stringify(value))
const rig = (fullScale: number, more: object = {}) => ({
  name: 'north bench',
  manometer: {
    driver: 'ascii-line',
    suctionSign: -1,
    accuracy: { ofReading: 0, ofFullScale: 0.005, fullScale: { value: fullScale, unit: 'inH2O' } },
    digit: { value: 0.001, unit: 'inH2O' },
    ...more,
  },
  meter: { driver: 'scpi-query', options: { command: 'READ?' }, pair: 'com-no' },
})
const part = {
  model: 'DP-62',
  kind: 'draft-proving',
  rated: { value: 0.25, unit: 'inH2O', on: 'make' },
  limits: { make: { low: 0.22, high: 0.28, unit: 'inH2O' } },
}
write('part.json', part)
write('part-2-ohm.json', { ...part, contact: { maxOhm: 2 } })
write('states.json', { ...rig(2), meter: { driver: 'continuity-text', pair: 'com-no' } })
write('good.json', rig(2))
write('poor.json', rig(20))
write('overdue.json', rig(2, { identity: { due: '2020-01-31' } }))

const capability = (rigFile: string, ...more: string[]) =>
  runCommand(folder, ['capability', '--part', 'part.json', '--rig', rigFile, ...more])

describe('capability', () => {
  test('says that a manometer of 2 in range can decide ±0.03 at 0.25, with status 0', async () => {
    const { status, out, err } = await capability('good.json')
    expect({ status, err }).toEqual({ status: 0, err: '' })
    expect(out).toMatch(/^It can decide: /m)
    expect(out).toMatch(/^make +U 0\.01\d inH2O \([23]\.\d Pa\), T\/U 2\.\d; limits 0\.22 to 0\.28 inH2O$/m)
    expect(out).toMatch(/^ +passes 0\.23\d to 0\.26\d inH2O$/m)
    expect(out).toMatch(/^break .* no limit: measured, not assessed$/m)
    expect(out).toMatch(/^Taken: scatter .*assumed/m)
  })
  test('says that one of 20 in range cannot, and which would, with status 2', async () => {
    const { status, out } = await capability('poor.json')
    expect(status).toBe(2)
    expect(out).toMatch(/^It cannot decide: no result could pass\.$/m)
    expect(out).toMatch(/right to ±0\.01\d inH2O \([^)]*\) at the make/)
    expect(out).toMatch(/^Cycles: more of them would not be enough\./m)
  })
  test('names an overdue certificate, with status 2', async () => {
    const { status, out } = await capability('overdue.json')
    expect(status).toBe(2)
    expect(out).toContain("The manometer's certificate is overdue")
    // Where no result could pass no zone is told in which one would.
    expect(out).not.toMatch(/passes/)
  })
  test('says that a continuity tester cannot settle a limit in ohm, and what would, with status 2', async () => {
    const [limited, free] = await Promise.all(
      ['part-2-ohm.json', 'part.json'].map((name) =>
        runCommand(folder, ['capability', '--part', name, '--rig', 'states.json']),
      ),
    )
    expect(limited?.status).toBe(2)
    expect(limited?.out).toMatch(
      /^This meter tells open and closed alone, and the part has a limit of 2 ohm: .* ohms would decide it/m,
    )
    expect(free?.status).toBe(0)
    const { out } = await runCommand(folder, ['driver', 'list', 'scpi-query'])
    expect(out).toMatch(/^Reads pressure and resistance\./m)
  })
  test('says the same as JSON, with what was assumed', async () => {
    const { status, out } = await capability('poor.json', '--json', '--cycles', '8')
    expect(status).toBe(2)
    expect(JSON.parse(out)).toMatchObject({
      decides: 'no',
      why: 'no-acceptance-interval',
      worst: 'make',
      cycles: { planned: 8, needed: null },
      plan: { cycles: 8, contactIntervalS: 0.2, pressureIntervalS: 0.5 },
      assumed: { scatter: true, pressure: true, contact: false },
    })
  })
  test.each([
    [['--cycles', '1'], /--cycles <number>.*It must be a whole number from 2 to 1000/],
    [['--scatter', 'x'], /--scatter <percent>.*It must be a number from 0.001 to 50 %/],
  ])('%j is refused with status 64', async (args, sentence) => {
    const { status, err } = await capability('good.json', ...args)
    expect(status).toBe(64)
    expect(err).toMatch(sentence)
    expect(err.trimEnd().split('\n')).toHaveLength(2)
  })
})

describe('plan-bench', () => {
  test('names ballast, ramp, needle, lag, heat and leak, and the cautions', async () => {
    const { status, out, err } = await runCommand(folder, ['plan-bench', '--part', 'part.json'])
    expect({ status, err }).toEqual({ status: 0, err: '' })
    expect(out).toMatch(/^5 L .* suits$/m)
    expect(out).toMatch(/^1 L(?!.*suits)/m)
    for (const word of ['Ballast: 5 L', 'Ramp: ', 'Lag: ', 'Needle vent: one needle, bore 0.26 mm', 'Heat: ', 'Leak: '])
      expect(out).toContain(word)
    expect(out).toMatch(/Never draw or blow by mouth/)
    expect(out).toContain('(assumed)')
  })
  test('with a rig takes its meter and its lag', async () => {
    write('known.json', { ...rig(2), lag: { valueS: 0.05, uS: 0.02, n: 3 } })
    const args = ['plan-bench', '--part', 'part.json', '--rig', 'known.json']
    const { out } = await runCommand(folder, args)
    expect(out).toContain('sampling each 0.20 s takes')
    expect(out).toContain("The rig's lag is known to 0.020 s: enough.")
    const { out: json } = await runCommand(folder, [...args, '--json'])
    expect(JSON.parse(json)).toMatchObject({ contactIntervalS: 0.2, lagUs: 0.02, chosen: { litres: 5 } })
  })
  test('without a part is refused with status 64', async () => {
    const { status, err } = await runCommand(folder, ['plan-bench'])
    expect(status).toBe(64)
    expect(err).toMatch(/--part/)
  })
})
