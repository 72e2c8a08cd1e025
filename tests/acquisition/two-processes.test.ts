import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, expect, test } from 'vitest'
import type { RecordedEvent } from '../../src/core/model/event.ts'
import { createReader } from '../../src/recording/read.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'
import { createVirtualSerial, type VirtualSerial } from '../harness/virtual-serial.ts'

const folder = temporaryFolder()
const device: VirtualSerial = createVirtualSerial(join(folder, 'tty'))
let screen: ChildProcess | null = null
let stream: NodeJS.Timeout | undefined
let pid = 0
let runs = 0

const kill = (target: number, signal: NodeJS.Signals) => {
  try {
    process.kill(target, signal)
  } catch {
    // Gone already.
  }
}
afterEach(() => {
  clearInterval(stream)
  screen?.kill('SIGKILL')
  if (pid) kill(pid, 'SIGKILL')
  device.unplug()
})

/** A screen process that follows a fresh recording; `said` is all that it has printed. `before` is run by its shell. */
async function startScreen(before = ':') {
  device.plug()
  const file = join(folder, `run-${++runs}.run`)
  const script = fileURLToPath(new URL('./screen-process.ts', import.meta.url))
  const command = ['-c', `${before}; exec "$0" "$@"`, process.execPath, script, file, device.path]
  const child = spawn('/bin/sh', command, { stdio: ['pipe', 'pipe', 'inherit'] })
  screen = child
  let said = ''
  child.stdout.on('data', (text) => {
    said += text
  })
  pid = Number(await until(() => /^pid (\d+)$/m.exec(said)?.[1], 'pid of the acquisition process'))
  await until(() => existsSync(file) && readFileSync(file, 'utf8').includes('"state":"open"'), 'link open')
  return { file, child, said: () => said }
}

/** Numbered lines at `linesPerS`, in bursts of 20 ms; `sent` is how many so far. */
function streamLines(linesPerS: number) {
  let sent = 0
  const startMs = performance.now()
  stream = setInterval(() => {
    const due = Math.floor(((performance.now() - startMs) * linesPerS) / 1000)
    let text = ''
    while (sent < due) text += `${sent++}\n`
    device.write(text)
  }, 20)
  return { sent: () => sent, stop: () => clearInterval(stream) }
}

const read = (file: string): RecordedEvent[] => {
  const reader = createReader()
  return [...reader.push(readFileSync(file)), ...reader.finish()]
}
const numbers = (events: RecordedEvent[]) =>
  events.flatMap((event) => (event.type === 'rx' ? [Number(event.text)] : []))
const counted = (length: number) => Array.from({ length }, (_, i) => i)

/** Whether the process is gone; one that is dead but not yet collected counts as gone. */
function gone(target: number): boolean {
  try {
    process.kill(target, 0)
  } catch {
    return true
  }
  const stat = `/proc/${target}/stat`
  return existsSync(stat) && /\) Z/.test(readFileSync(stat, 'latin1'))
}

test('a killed screen process leaves a recording that is sealed as abandoned, and no process', async () => {
  const { file, child } = await startScreen()
  const lines = streamLines(200)
  await until(() => lines.sent() > 50, 'lines')
  child.kill('SIGKILL')
  await until(() => gone(pid), 'the acquisition process ends')
  const events = read(file)
  expect(events.slice(-2)).toMatchObject([
    { type: 'end', reason: 'abandoned' },
    { type: 'seal', matches: true },
  ])
  expect(numbers(events)).toEqual(counted(numbers(events).length))
  expect(numbers(events).length).toBeGreaterThan(20)
})

test('SIGTERM ends the recording as abandoned and sealed; Ctrl-C and a closed terminal do not end it', async () => {
  const { file, said } = await startScreen()
  for (const signal of ['SIGINT', 'SIGHUP'] as const) kill(pid, signal)
  device.write('still here\n')
  await until(() => said().includes('seen 1'), 'a line after the signals')
  kill(pid, 'SIGTERM')
  await until(() => said().includes('over'), 'the screen process learns of it')
  expect(said()).toContain('over well')
  expect(read(file).slice(-2)).toMatchObject([
    { type: 'end', reason: 'abandoned' },
    { type: 'seal', matches: true },
  ])
})

test('a killed acquisition process is told, and what was recorded opens whole', async () => {
  const { file, said } = await startScreen()
  const lines = streamLines(2000)
  await until(() => lines.sent() > 500, 'lines')
  kill(pid, 'SIGKILL')
  await until(() => said().includes('over'), 'the screen process learns of it')
  expect(said()).toContain('over acquisition-died')
  const events = read(file)
  expect(events.filter((event) => event.type === 'corrupt' || event.type === 'torn')).toEqual([])
  expect(numbers(events)).toEqual(counted(numbers(events).length))
  expect(said()).toContain(`seen ${numbers(events).length}\n`)
})

test('a recording that cannot grow any more is told as such, and what was written opens', async () => {
  // No more than 16 blocks of 512 or 1024 bytes, by shell.
  const { file, said } = await startScreen('ulimit -f 16')
  const lines = streamLines(2000)
  await until(() => said().includes('over'), 'the screen process learns of it')
  lines.stop()
  expect(said()).toContain('over recording-failed')
  const events = read(file)
  expect(events.filter((event) => event.type === 'corrupt')).toEqual([])
  expect(events.map((event) => event.type)).not.toContain('end')
  expect(numbers(events)).toEqual(counted(numbers(events).length))
  expect(numbers(events).length).toBeGreaterThan(10)
})

test('a screen process that stands still for 5 s at 2 000 lines/s loses no line', async () => {
  const { file, child, said } = await startScreen()
  const lines = streamLines(2000)
  await until(() => lines.sent() > 500, 'lines')
  child.kill('SIGSTOP')
  const stoppedAt = lines.sent()
  await new Promise((resolve) => setTimeout(resolve, 5000))
  const missed = lines.sent() - stoppedAt
  child.kill('SIGCONT')
  await until(() => lines.sent() > stoppedAt + missed + 500, 'lines after it')
  lines.stop()
  await until(() => said().includes(`seen ${lines.sent()}\n`), 'all lines seen')
  child.stdin.write('finish\n')
  await until(() => said().includes('over well'), 'the end')
  const events = read(file)
  expect(missed).toBeGreaterThan(5000)
  expect(numbers(events)).toEqual(counted(lines.sent()))
  expect(events.slice(-3)).toMatchObject([{ type: 'end', reason: 'finished' }, { type: 'verdict' }, { type: 'seal' }])
})
