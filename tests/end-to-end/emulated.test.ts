// Each driver through the whole program: an instrument written from its published format alone speaks on a pseudo-terminal, and a scripted bench is found again.
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import type { BytesEvent } from '../../src/core/model/event.ts'
import { pressureLines, resistanceLines } from '../harness/emulators/ascii-line.ts'
import { resistancePairs } from '../harness/emulators/block-pair.ts'
import { boardLines } from '../harness/emulators/bridge-line.ts'
import { continuityWords } from '../harness/emulators/continuity-text.ts'
import { loggerLines } from '../harness/emulators/csv-line.ts'
import type { Emulator } from '../harness/emulators/emulator.ts'
import { pressureFrames } from '../harness/emulators/frame-16.ts'
import { createLateness } from '../harness/emulators/lateness.ts'
import { pressureRegister } from '../harness/emulators/modbus-slave.ts'
import { resistanceReplies } from '../harness/emulators/scpi-query.ts'
import { createScriptedBench, scripted, sixStrokes, wholeTest } from '../harness/emulators/scripted-bench.ts'
import { resistanceFrames } from '../harness/emulators/segment-frame.ts'
import { pressureReplies } from '../harness/emulators/sign-value-flags.ts'
import { runCommand } from '../harness/run-command.ts'
import { startProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'

const ground = temporaryFolder()

type Instrument = { driver: string; options?: Record<string, string | number>; speaks: Emulator }

type Row = Partial<Record<'manometer' | 'meter' | 'bridge', Instrument>>

/** Each driver is in one of them. The first is led to a verdict, the others recorded without one, which takes half as long. */
const rows: Row[] = [
  { bridge: { driver: 'bridge-line', speaks: boardLines } },
  {
    manometer: { driver: 'frame-16', options: { units: '78=mbar' }, speaks: pressureFrames },
    meter: { driver: 'segment-frame', speaks: resistanceFrames },
  },
  {
    manometer: {
      driver: 'csv-line',
      options: { column: 3, separator: 'semicolon', pressureUnit: 'Pa' },
      speaks: loggerLines,
    },
    meter: { driver: 'continuity-text', speaks: continuityWords },
  },
  {
    manometer: { driver: 'sign-value-flags', options: { intervalMs: 20 }, speaks: pressureReplies },
    meter: { driver: 'block-pair', speaks: resistancePairs },
  },
  {
    manometer: { driver: 'ascii-line', speaks: pressureLines },
    meter: { driver: 'scpi-query', options: { intervalMs: 20 }, speaks: resistanceReplies },
  },
  {
    manometer: {
      driver: 'modbus-rtu',
      options: { slave: 7, register: 4, scale: 0.01, intervalMs: 30, gapMs: 5 },
      speaks: pressureRegister,
    },
    meter: { driver: 'ascii-line', speaks: resistanceLines },
  },
]
const ledToVerdict = 1

/** All that a recording has of its instruments, in order. */
const receivedOf = (path: string): BytesEvent[] =>
  readFileSync(path, 'utf8')
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line.slice(9)))
    .filter(({ type }) => type === 'rx')

// Strokes so brisk leave a late hose open, which takes nothing from a part that only has to trip soon enough.
const part = {
  kind: 'blockage',
  rated: { value: 62, unit: 'Pa', on: 'make' },
  limits: { make: { low: null, high: 74, unit: 'Pa' } },
}
const pressureFields = {
  suctionSign: -1,
  digit: { value: 0.01, unit: 'Pa' },
  accuracy: { ofReading: 0, ofFullScale: 0.001, fullScale: { value: 250, unit: 'Pa' } },
}
const fields = {
  manometer: pressureFields,
  meter: { pair: 'com-no' },
  bridge: { ...pressureFields, pair: 'com-no' },
}

const whole = { script: wholeTest, strokes: 9, args: ['--precondition', '1'], verdict: 'pass' }
const free = { script: sixStrokes, strokes: 6, args: ['--purpose', 'free'], verdict: 'not-assessed' }

// One after the other: together their programs would be the other work that makes lines late.
const named = rows.map((row, i) => {
  const session = i < ledToVerdict ? whole : free
  return [
    Object.values(row)
      .map(({ driver }) => driver)
      .join(' with '),
    session.verdict,
    row,
    session,
  ] as const
})
test.for(named)(
  '%s: each line is read, make and break are found again, %s',
  {
    // On a machine so busy that it holds lines back by a second, a stroke may be lost.
    retry: 2,
  },
  async ([, , row, { script, strokes, args, verdict }], { onTestFinished }) => {
    const folder = mkdtempSync(join(ground, 'bench-'))
    const bench = createScriptedBench(script)
    let open = () => {}
    const opened = new Promise<void>((done) => {
      open = done
    })
    const lines = (Object.entries(row) as [keyof Row, Instrument][]).map(([port, instrument]) => {
      const line = createVirtualSerial(join(folder, port))
      line.plug()
      onTestFinished(line.unplug)
      return { port, line, ...instrument }
    })
    const rig = Object.fromEntries(
      lines.map(({ port, line, driver, options }) => [
        port,
        { driver, options, port: { path: line.path, baudRate: 115_200 }, ...fields[port] },
      ]),
    )
    writeFileSync(join(folder, 'rig.json'), JSON.stringify(rig))
    writeFileSync(join(folder, 'part.json'), JSON.stringify(part))
    const lateness = createLateness()
    for (const { port, speaks, line } of lines) {
      const end = await speaks(line, lateness.follow(port, line, bench.shows), opened)
      onTestFinished(async () => void (await end()))
    }
    const program = startProgram(folder, [
      ...['run', '--plain', '--part', 'part.json', '--rig', 'rig.json', '--data-dir', '.', ...args],
    ])
    onTestFinished(() => void program.child.kill('SIGKILL'))
    // The file knows it at once, the screen only when its worker has started.
    const path = await until(() => /^Recording: (.*)$/m.exec(program.out())?.[1], 'a recording')
    const isOpen = (port: string) =>
      new RegExp(`"type":"link".*"port":"${port}".*"state":"open"`).test(readFileSync(path, 'utf8'))
    await until(() => existsSync(path) && lines.every(({ port }) => isOpen(port)), 'the ports to be opened')
    open()
    bench.begin()
    const beganMs = performance.now()
    // A test ends by itself, a recording without a verdict is ended by hand.
    await until(() => bench.isOver() || program.child.exitCode !== null, 'the script to end')
    program.child.kill('SIGINT')
    const ended = await program.ended
    expect(ended.err).toBe('')

    const { out } = await runCommand(folder, ['replay', path, '--json'])
    const result = JSON.parse(out)
    expect(result.verdict).toBe(verdict)
    expect(Object.keys(result.quality).sort()).toEqual(Object.keys(row).sort())
    // In the quick legs a late line may look implausible: that is the hand of this bench, not its driver.
    for (const quality of Object.values(result.quality)) expect(quality).toMatchObject({ unreadable: 0 })
    expect(result.acted).toMatchObject({ strokes, made: strokes, released: strokes })
    // A busy machine gives both instruments' lines later, each by its own: what the pace makes of that is added to the bars.
    const latePa = scripted.pacePaPerS * lateness.spreadS(receivedOf(path), beganMs)
    for (const [{ valuePa, UPa, allowLowPa, allowHighPa }, truePa] of [
      [result.make, scripted.makePa],
      [result.break, scripted.breakPa],
    ]) {
      expect(valuePa - truePa).toBeLessThan(UPa + allowLowPa + latePa)
      expect(truePa - valuePa).toBeLessThan(UPa + allowHighPa + latePa)
      expect(UPa).toBeLessThan((scripted.makePa - scripted.breakPa) / 4 + latePa)
    }
  },
)
