// A small program for the tests: shows the live screen over made-up states and prints what the keys asked for once it is gone.
// Usage: sample-screen.ts KIND, where KIND is running (time goes on by itself), still, hostile, ended or replay.
import { createStore } from '../../src/terminal/store.ts'
import { sampleLive, samplePart, sampleResult } from './sample-lives.ts'

// Node runs no .tsx: the screen comes from the built program, as in every whole-program test.
const built = new URL('../../dist/src/terminal/app.mjs', import.meta.url)
const { showLive }: typeof import('../../src/terminal/app.tsx') = await import(built.href)

const hostile = '\x1b[31mred\x1b[2J\x1b]0;title\x07\u202eevil\u0000\r\nline\x9b5n'
const kind = process.argv[2] ?? 'still'
const store = createStore()
const asked: string[] = []
let elapsedS = 137
let ended = kind === 'ended'

function state() {
  const change = ended
    ? { phase: 'ended' as const, next: 'Take the part off the bench.', result: sampleResult(9) }
    : kind === 'hostile'
      ? {
          next: hostile,
          alarm: hostile,
          links: [{ port: 'meter' as const, state: 'open' as const, readingsPerS: 5, faults: 3, lastFault: hostile }],
        }
      : {}
  return sampleLive(elapsedS, change)
}

store.set(state())
const timer = setInterval(() => {
  if (kind === 'running') elapsedS += 0.1
  store.set(state())
}, 100)

const screen = showLive({
  part: kind === 'hostile' ? { ...samplePart, model: hostile } : samplePart,
  title: `certify ${kind === 'hostile' ? hostile : 'HT-25 T0042'}`,
  simulated: true,
  store,
  ...(kind === 'replay'
    ? {}
    : {
        onMark: (mark: string, text?: string) => asked.push(text === undefined ? mark : `${mark}:${text}`),
        onEnd: (reason: string) => {
          asked.push(reason)
          ended = true
        },
      }),
})
const { by } = await screen.done
clearInterval(timer)
console.log(`left by ${by}; asked: ${asked.join(' ')}`)
