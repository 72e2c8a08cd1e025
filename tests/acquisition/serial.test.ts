import { closeSync, constants, existsSync, openSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { SerialPort } from 'serialport'
import { afterEach, expect, test } from 'vitest'
import type { RecordedEvent } from '../../src/core/model/event.ts'
import { createReader } from '../../src/recording/read.ts'
import { follow } from '../../src/source/follow.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'
import { createVirtualSerial, type VirtualSerial } from '../harness/virtual-serial.ts'
import { lineWire, linkOf, planOf, portPlan, type Run, startRun } from './bench.ts'

const folder = temporaryFolder()
const devices: VirtualSerial[] = []
const pids: number[] = []
afterEach(() => {
  for (const device of devices.splice(0)) device.unplug()
  for (const pid of pids.splice(0)) {
    try {
      process.kill(pid, 'SIGKILL')
    } catch {
      // Gone, as it should be.
    }
  }
})

let made = 0
function plugged(): VirtualSerial {
  const device = createVirtualSerial(join(folder, `tty-${++made}`))
  device.plug()
  devices.push(device)
  return device
}
function record(...ports: Parameters<typeof startRun>[1]): Run {
  const run = startRun(folder, ports)
  if (run.pid !== undefined) pids.push(run.pid)
  return run
}
const opened = (run: Run) => run.sees((event) => linkOf(event, 'open'), 'link open')
const fileEvents = (path: string): RecordedEvent[] => {
  const reader = createReader()
  return [...reader.push(readFileSync(path)), ...reader.finish()]
}
const texts = (events: RecordedEvent[]) =>
  events.flatMap((event) => (event.type === 'rx' ? [event.text ?? Buffer.from(event.b64 ?? '', 'base64')] : []))

test('two instruments are recorded line by line, sealed, with the verdict after the end', async () => {
  const [manometer, meter] = [plugged(), plugged()]
  const run = record(portPlan('manometer', manometer.path), portPlan('meter', meter.path))
  await opened(run)
  await run.sees((event) => linkOf(event, 'open', 'meter'), 'meter open')
  manometer.write('-12.4 Pa\r\n-12.5 Pa\r\n')
  meter.write('+1.0E0\n')
  await until(() => texts(run.events).length === 3, 'three lines')
  run.mark({ mark: 'cycles', by: 'flow' })
  await run.sees((event) => event.type === 'mark', 'mark')
  await until(() => run.events.filter((event) => event.type === 'tick').length >= 4, 'ticks')
  await run.close()
  expect(await run.exited).toBeNull()

  expect(texts(run.events.filter((event) => event.type === 'rx' && event.port === 'manometer'))).toEqual([
    '-12.4 Pa\r\n',
    '-12.5 Pa\r\n',
  ])
  expect(run.bytes('meter')).toBe('+1.0E0\n')
  expect(run.events[0]).toMatchObject({ type: 'start', at: expect.stringMatching(/^\d{4}-.*Z$/) })
  expect(run.events.slice(-3)).toMatchObject([
    { type: 'end', reason: 'finished' },
    { type: 'verdict', result: { verdict: 'undecided' } },
    { type: 'seal', matches: true },
  ])
  const mark = run.events.findIndex((event) => event.type === 'mark')
  expect(run.events[mark + 1]).toMatchObject({ type: 'seal', matches: true })
  // The lines of one chunk share its time.
  const [first, second] = run.events.filter((event) => event.type === 'rx' && event.port === 'manometer')
  expect(first).toHaveProperty('t', second && 't' in second ? second.t : null)
  expect(fileEvents(run.file)).toEqual(run.events)
})

test('no byte is dropped: empty lines, CRLF, NUL, escape, overlong and unended lines', async () => {
  const device = plugged()
  const run = record(portPlan('manometer', device.path))
  await opened(run)
  const every = Buffer.from(Array.from({ length: 256 }, (_, i) => i)).toString('latin1')
  const sent = ['\n\n\r\n', 'a\r\n', '\0\x1b[2J\n', 'x'.repeat(5000), 'y\n', every, '\nunended']
  for (const piece of sent) device.write(piece)
  await until(() => run.bytes('manometer').length === sent.join('').length, 'all bytes')
  await run.close()
  expect(run.bytes('manometer')).toBe(sent.join(''))
  expect(texts(run.events).slice(0, 4)).toEqual(['\n', '\n', '\r\n', 'a\r\n'])
  // Released after a second of silence, at a time no earlier than the line before it.
  expect(texts(run.events).at(-1)).toBe('unended')
  expect(run.events.filter((event) => event.type === 'corrupt')).toEqual([])
})

test('what is left of a line is recorded before the end', async () => {
  const device = plugged()
  const run = record(portPlan('manometer', device.path))
  await opened(run)
  device.write('whole\nhal')
  await run.sees((event) => event.type === 'rx', 'whole line')
  await run.close()
  expect(texts(run.events)).toEqual(['whole\n', 'hal'])
})

test('a pulled cable is lost and back, and nothing old is sent or joined over the gap', async () => {
  const device = plugged()
  const wire = { ...lineWire, start: 'GO\n' }
  const run = record(portPlan('manometer', device.path, wire))
  await opened(run)
  device.write('1\n2')
  await run.sees((event) => event.type === 'rx', 'first line')
  device.unplug()
  await run.sees((event) => linkOf(event, 'lost'), 'lost')
  device.plug()
  await run.sees((event) => linkOf(event, 'back'), 'back')
  device.write('3\n')
  await until(() => run.bytes('manometer').endsWith('3\n'), 'line after the gap')
  await run.close()
  const story = run.events.flatMap((event) =>
    event.type === 'link' ? [event.state] : event.type === 'rx' || event.type === 'tx' ? [event.text] : [],
  )
  expect(story).toEqual(['open', 'GO\n', '1\n', '2', 'lost', 'back', 'GO\n', '3\n'])
  await until(() => device.received().toString() === 'GO\nGO\n', 'the start command at each connection')
})

test('a device that vanishes while it streams is noticed each time', async () => {
  const device = plugged()
  const run = record(portPlan('manometer', device.path))
  await opened(run)
  for (let round = 1; round <= 3; round++) {
    const stream = setInterval(() => device.write('-12.4 Pa\n'.repeat(5)), 5)
    const before = run.bytes('manometer').length
    await until(() => run.bytes('manometer').length > before + 200, 'streaming')
    device.unplug()
    clearInterval(stream)
    const count = (state: 'lost' | 'back') => run.events.filter((event) => linkOf(event, state)).length
    await until(() => count('lost') === round, 'lost')
    device.plug()
    await until(() => count('back') === round, 'back')
  }
  await run.close()
  expect(await run.exited).toBeNull()
})

test('a polled instrument is asked again only when it has answered or was given up', async () => {
  const device = plugged()
  let asked = 0
  let answered = 0
  let most = 0
  device.onReceived = (bytes) => {
    asked += bytes.toString().split('\n').length - 1
    most = Math.max(most, asked - answered)
    // The second question is never answered; the others take longer than the period.
    if (asked === 2) return setTimeout(() => answered++, 400)
    setTimeout(() => {
      answered++
      device.write(`${asked}\n`)
    }, 120)
    return undefined
  }
  const poll = [{ bytes: 'READ?\n', periodMs: 40, replyMs: 600, quietMs: 20 }]
  const run = record(portPlan('manometer', device.path, { ...lineWire, poll }))
  await until(() => texts(run.events).length >= 4, 'answers')
  await run.close()
  expect(most).toBe(1)
  const story = run.events.flatMap((event) => (event.type === 'rx' || event.type === 'tx' ? [event.type] : []))
  expect(story.slice(0, 6)).toEqual(['tx', 'rx', 'tx', 'tx', 'rx', 'tx'])
  expect(run.events.find((event) => event.type === 'tx')).toMatchObject({ text: 'READ?\n' })
})

test('queries are sent in turn, and one that stays unanswered holds up no other', async () => {
  const device = plugged()
  device.onReceived = (bytes) => {
    if (bytes.toString() === 'A\n') device.write('a\n')
  }
  const poll = ['A\n', 'B\n', 'C\n'].map((bytes) => ({ bytes, periodMs: 30, replyMs: 60, quietMs: 0 }))
  const run = record(portPlan('manometer', device.path, { ...lineWire, poll }))
  await until(() => texts(run.events).length >= 3, 'answers')
  await run.close()
  expect(run.bytes('manometer', 'tx').slice(0, 14)).toBe('A\nB\nC\nA\nB\nC\nA\n')
})

test.each([
  ['line', lineWire.framing, 'Q\n', 'answer\n'],
  ['byte', { kind: 'bytes' }, 'Q\n', 'Q!'],
] as const)('a command that comes back does not answer for a %s instrument', async (_, framing, bytes, answer) => {
  const device = plugged()
  device.onReceived = (asked) => {
    device.write(asked)
    setTimeout(() => device.write(answer), 150)
  }
  const poll = [{ bytes, periodMs: 20, replyMs: 5000, quietMs: 20 }]
  const run = record(portPlan('meter', device.path, { ...lineWire, framing, poll }))
  await until(() => run.bytes('meter').length >= 3 * (bytes + answer).length, 'three answers')
  await run.close()
  expect(run.bytes('meter').slice(0, 3 * (bytes + answer).length)).toBe((bytes + answer).repeat(3))
})

test('a polled byte instrument has answered when it falls quiet', async () => {
  const device = plugged()
  device.onReceived = () => {
    device.write(Buffer.from([1, 2]))
    setTimeout(() => device.write(Buffer.from([3, 4])), 30)
  }
  const poll = [{ bytes: '\x05', periodMs: 10, replyMs: 5000, quietMs: 150 }]
  const wire = { framing: { kind: 'bytes' }, start: null, poll, maxFrameBytes: 64 } as const
  const run = record(portPlan('meter', device.path, wire))
  await until(() => run.bytes('meter').length >= 12, 'three replies')
  await run.close()
  expect(run.bytes('meter').slice(0, 12)).toBe('\x01\x02\x03\x04'.repeat(3))
  const story = run.events.flatMap((event) => (event.type === 'rx' || event.type === 'tx' ? [event.type] : []))
  const replies = story.join(' ').split('tx').slice(1, 4)
  for (const reply of replies) expect(reply.trim()).toMatch(/^rx( rx)?$/)
})

test('an absent port is told before the test begins, and the recording is sealed as abandoned', async () => {
  const path = join(folder, 'tty-absent')
  const run = record(portPlan('manometer', path))
  const problem = await run.exited
  expect(problem).toMatchObject({ code: 'port-absent', exitCode: 69 })
  expect(problem?.message).toContain('tty-absent')
  expect(fileEvents(run.file).slice(-2)).toMatchObject([
    { type: 'end', reason: 'abandoned' },
    { type: 'seal', matches: true },
  ])
})

test('a busy port is told as such', async () => {
  const device = plugged()
  const other = new SerialPort({ path: device.path, baudRate: 9600, autoOpen: false })
  await new Promise<void>((resolve, reject) => other.open((error) => (error ? reject(error) : resolve())))
  const run = record(portPlan('meter', device.path))
  expect(await run.exited).toMatchObject({ code: 'port-busy', exitCode: 69 })
  await new Promise((resolve) => other.close(resolve))
})

test('a file that is no serial port is told as such', async () => {
  const path = join(folder, 'plain')
  closeSync(openSync(path, constants.O_CREAT | constants.O_WRONLY))
  const run = record(portPlan('manometer', path))
  expect((await run.exited)?.code).toBe('port-failed')
})

test('a recording that is already there stops the process before any port is opened', async () => {
  const device = plugged()
  const first = record(portPlan('manometer', device.path))
  await opened(first)
  await first.close()
  const before = readFileSync(first.file)
  const second = follow(planOf(first.file, [portPlan('manometer', device.path)]), createReader())
  const batches: unknown[] = []
  for await (const batch of second.batches) batches.push(batch)
  expect((await second.exited)?.code).toBe('recording-exists')
  expect(batches).toEqual([])
  expect(readFileSync(first.file)).toEqual(before)
  expect(existsSync(first.file)).toBe(true)
})

test('without a result within five seconds the recording is sealed without a verdict', async () => {
  const device = plugged()
  const run = record(portPlan('manometer', device.path))
  await opened(run)
  run.finish('finished')
  await run.over()
  expect(await run.exited).toBeNull()
  expect(run.events.map((event) => event.type)).not.toContain('verdict')
  expect(run.events.slice(-2)).toMatchObject([
    { type: 'end', reason: 'finished' },
    { type: 'seal', matches: true },
  ])
})
