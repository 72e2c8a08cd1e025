// Each driver through the whole program: an instrument written from its published format alone speaks on a pseudo-terminal, and a scripted bench is found again.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { pressureLines, resistanceLines } from '../harness/emulators/ascii-line.ts'
import { resistancePairs } from '../harness/emulators/block-pair.ts'
import { boardLines } from '../harness/emulators/bridge-line.ts'
import { continuityWords } from '../harness/emulators/continuity-text.ts'
import { loggerLines } from '../harness/emulators/csv-line.ts'
import type { Emulator } from '../harness/emulators/emulator.ts'
import { pressureFrames } from '../harness/emulators/frame-16.ts'
import { pressureRegister } from '../harness/emulators/modbus-slave.ts'
import { resistanceReplies } from '../harness/emulators/scpi-query.ts'
import { createScriptedBench, scripted } from '../harness/emulators/scripted-bench.ts'
import { resistanceFrames } from '../harness/emulators/segment-frame.ts'
import { pressureReplies } from '../harness/emulators/sign-value-flags.ts'
import { runCommand } from '../harness/run-command.ts'
import { startProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'

type Instrument = { driver: string; options?: Record<string, string | number>; speaks: Emulator }

/** Each driver is in one of them. */
const rows: { manometer?: Instrument; meter?: Instrument; bridge?: Instrument }[] = [
  { bridge: { driver: 'bridge-line', speaks: boardLines } },
  {
    manometer: { driver: 'frame-16', options: { units: '78=mbar' }, speaks: pressureFrames },
    meter: { driver: 'continuity-text', speaks: continuityWords },
  },
  {
    manometer: {
      driver: 'csv-line',
      options: { column: 3, separator: 'semicolon', pressureUnit: 'Pa' },
      speaks: loggerLines,
    },
    meter: { driver: 'segment-frame', speaks: resistanceFrames },
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

const part = {
  kind: 'draft-proving',
  rated: { value: 62, unit: 'Pa', on: 'make' },
  limits: { make: { low: 50, high: 74, unit: 'Pa' } },
}
const pressureFields = {
  suctionSign: -1,
  digit: { value: 0.01, unit: 'Pa' },
  accuracy: { ofReading: 0, ofFullScale: 0.001, fullScale: { value: 250, unit: 'Pa' } },
}
const fields = { manometer: pressureFields, meter: { pair: 'com-no' }, bridge: { ...pressureFields, pair: 'com-no' } }

// Each of them is waited for: together they take as long as one.
const named = rows.map(
  (row) =>
    [
      Object.values(row)
        .map(({ driver }) => driver)
        .join(' with '),
      row,
    ] as const,
)
test.concurrent.for(named)('%s', async ([name, row], { onTestFinished }) => {
  const folder = join(temporaryFolder(), name.replaceAll(' ', '-'))
  mkdirSync(folder)
  const bench = createScriptedBench()
  let open = () => {}
  const opened = new Promise<void>((done) => {
    open = done
  })
  const lines = (Object.entries(row) as [keyof typeof fields, Instrument][]).map(([port, instrument]) => {
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
  for (const { speaks, line } of lines) {
    const end = await speaks(line, bench.shows, opened)
    onTestFinished(async () => void (await end()))
  }
  const program = startProgram(folder, [
    ...['run', '--plain', '--part', 'part.json', '--rig', 'rig.json', '--data-dir', '.', '--purpose', 'free'],
  ])
  onTestFinished(() => void program.child.kill('SIGKILL'))
  // The file knows it at once, the screen only when its worker has started.
  const path = await until(() => /^Recording: (.*)$/m.exec(program.out())?.[1], 'a recording')
  const isOpen = (port: string) =>
    new RegExp(`"type":"link".*"port":"${port}".*"state":"open"`).test(readFileSync(path, 'utf8'))
  await until(() => existsSync(path) && lines.every(({ port }) => isOpen(port)), 'the ports to be opened')
  open()
  bench.begin()
  await until(() => bench.isOver() || program.child.exitCode !== null, 'the script to end')
  program.child.kill('SIGINT')
  const ended = await program.ended

  const { out } = await runCommand(folder, ['replay', path, '--json'])
  const result = JSON.parse(out)
  expect(Math.abs(result.make.valuePa - scripted.makePa)).toBeLessThan(result.make.UPa)
  expect(Math.abs(result.break.valuePa - scripted.breakPa)).toBeLessThan(result.break.UPa)
})
