import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { PortEvents } from '../../src/acquisition/connection.ts'
import { createLink, type FindPath, type Link } from '../../src/acquisition/link.ts'

import type { Wire } from '../../src/driver.ts'
import type { Problem } from '../../src/errors.ts'
import { lineWire, portPlan } from './bench.ts'

beforeEach(() => {
  vi.useFakeTimers()
})
afterEach(() => {
  vi.useRealTimers()
})

/** A link over ports that the test plays; `story` is what was logged, `ports` the connections in order. */
function playLink(wire: Wire = lineWire, findPath: FindPath | null = null) {
  const story: string[] = []
  const ports: (PortEvents & { closed: boolean; openedMs: number; path: string })[] = []
  const refused: Problem[] = []
  const link: Link = createLink(
    portPlan('manometer', 'port', wire),
    ({ path }, on) => {
      const port = { ...on, closed: false, openedMs: performance.now(), path }
      ports.push(port)
      return {
        write: () => {},
        close: () => {
          port.closed = true
        },
      }
    },
    {
      nowUs: () => Math.round(performance.now() * 1000),
      bytes: (type, _, bytes) => story.push(`${type} ${bytes.toString('latin1')}`),
      link: (state, why) => story.push(why === undefined ? state : `${state}: ${why}`),
    },
    (problem) => refused.push(problem),
    findPath,
  )
  const hear = (text: string) => ports.at(-1)!.onData(Buffer.from(text, 'latin1'))
  return { link, story, ports, refused, hear }
}

test('a port that cannot be opened at first is refused, not tried again', () => {
  const { ports, refused, story } = playLink()
  ports[0]!.onLost('no such wire')
  vi.advanceTimersByTime(60_000)
  expect(refused).toMatchObject([{ code: 'port-failed', message: 'The port port could not be opened (no such wire).' }])
  expect(ports).toHaveLength(1)
  expect(story).toEqual([])
})

test('a lost port is tried again after 0.25 s, doubling to 5 s, and only then said to be back', () => {
  const { ports, story } = playLink()
  ports[0]!.onOpen()
  ports[0]!.onLost('pulled')
  const waits: number[] = []
  for (let i = 1; i <= 7; i++) {
    const lostMs = performance.now()
    vi.advanceTimersByTime(5000)
    waits.push(ports[i]!.openedMs - lostMs)
    if (i < 7) ports[i]!.onLost('absent')
  }
  expect(waits).toEqual([250, 500, 1000, 2000, 4000, 5000, 5000])
  expect(story).toEqual(['open', 'lost: pulled'])
  ports[7]!.onOpen()
  expect(story.at(-1)).toBe('back')
  ports[7]!.onData(Buffer.from('1\n'))
  ports[7]!.onLost('pulled')
  vi.advanceTimersByTime(250)
  expect(ports).toHaveLength(9)
})

test('half a line goes out after a second of silence', () => {
  const { ports, hear, story } = playLink()
  ports[0]!.onOpen()
  hear('ha')
  vi.advanceTimersByTime(999)
  hear('lf')
  vi.advanceTimersByTime(999)
  expect(story).toEqual(['open'])
  vi.advanceTimersByTime(1)
  expect(story).toEqual(['open', 'rx half'])
})

test('an instrument that falls silent gets a new port; a slow one is left alone', () => {
  const fast = playLink()
  fast.ports[0]!.onOpen()
  for (let i = 0; i < 20; i++) {
    fast.hear('1\n')
    vi.advanceTimersByTime(100)
  }
  vi.advanceTimersByTime(6000)
  expect(fast.ports[0]!.closed).toBe(true)
  expect(fast.ports).toHaveLength(2)
  fast.ports[1]!.onOpen()
  expect(fast.story.slice(-2)).toEqual(['lost: silent', 'back'])
  fast.link.close()

  const slow = playLink()
  slow.ports[0]!.onOpen()
  for (let i = 0; i < 5; i++) {
    slow.hear('1\n')
    vi.advanceTimersByTime(8000)
  }
  expect(slow.ports).toHaveLength(1)
})

test('a link that is reopened says lost and back, with the half line before', () => {
  const { link, ports, hear, story } = playLink()
  ports[0]!.onOpen()
  hear('half')
  link.reopen('clocks parted')
  vi.advanceTimersByTime(250)
  ports[1]!.onOpen()
  expect(story).toEqual(['open', 'rx half', 'lost: clocks parted', 'back'])
  ports[1]!.onLost('pulled')
  link.reopen('clocks parted')
  expect(story.at(-1)).toBe('lost: pulled')
})

test('a closed link is quiet for ever', () => {
  const { link, ports, story } = playLink({
    ...lineWire,
    poll: [{ bytes: '?', periodMs: 10, replyMs: 10, quietMs: 1 }],
  })
  ports[0]!.onOpen()
  ports[0]!.onLost('pulled')
  link.close()
  vi.advanceTimersByTime(60_000)
  expect(ports).toHaveLength(1)
  expect(story).toEqual(['open', 'lost: pulled'])
})

test('an adapter that is back under another name is waited for, opened there and said, and its next loss is looked for from there', async () => {
  let at: string | null = null
  const { ports, story } = playLink(lineWire, async () => at)
  ports[0]!.onOpen()
  ports[0]!.onLost('pulled')
  await vi.advanceTimersByTimeAsync(3000)
  expect(ports).toHaveLength(1)
  at = 'port-2'
  await vi.advanceTimersByTimeAsync(5000)
  expect(ports[1]!.path).toBe('port-2')
  ports[1]!.onOpen()
  ports[1]!.onLost('silent')
  await vi.advanceTimersByTimeAsync(5000)
  ports[2]!.onOpen()
  expect(story).toEqual(['open', 'lost: pulled', 'back: at port-2 now', 'lost: silent', 'back'])
})

test('a link that is closed while its adapter is looked for opens nothing', async () => {
  const { link, ports } = playLink(lineWire, () => new Promise((found) => setTimeout(() => found('port-2'), 1000)))
  ports[0]!.onOpen()
  ports[0]!.onLost('pulled')
  await vi.advanceTimersByTimeAsync(500)
  link.close()
  await vi.advanceTimersByTimeAsync(5000)
  expect(ports).toHaveLength(1)
})
