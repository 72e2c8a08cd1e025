// A watched worker by itself: it is spoken to and stopped, prints nothing here, and says of each end why it came.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { expect, test } from 'vitest'
import { watchWorker } from '../src/watched-worker.ts'
import { temporaryFolder } from './harness/temporary-folder.ts'

const folder = temporaryFolder()

/** A worker that beats and then does `body`, where `beat`, `data` and `parentPort` are known. */
function workerOf(name: string, body: string): URL {
  const file = join(folder, `${name}.mjs`)
  const heartbeat = new URL('../src/heartbeat.ts', import.meta.url).href
  writeFileSync(
    file,
    `import { parentPort } from 'node:worker_threads'
import { nothingButOurs, startHeartbeat } from '${heartbeat}'
const { data, beat, ours } = startHeartbeat()
${body}
`,
  )
  return pathToFileURL(file)
}

test('what is posted to it comes back with the data it was given, and stopped it has no reason to tell', async () => {
  const file = workerOf('echo', 'parentPort.on("message", (text) => parentPort.postMessage([data.greeting, text]))')
  const heard: unknown[] = []
  const worker = watchWorker(file, {
    who: 'The echo',
    data: { greeting: 'hello' },
    onMessage(message) {
      heard.push(message)
      worker.stop()
    },
  })
  worker.post('bench')
  expect(await worker.ended).toBeNull()
  expect(heard).toEqual([['hello', 'bench']])
})

test('long work that beats is no silence', async () => {
  // Some six seconds without a turn: longer than the limit, counted by the work's own clock.
  const body = 'for (const end = Date.now() + 6000; Date.now() < end; ) beat()\nparentPort.postMessage("over")'
  const worker = watchWorker(workerOf('long', body), { who: 'It', data: null, onMessage: () => worker.stop() })
  expect(await worker.ended).toBeNull()
})

test('long work of our own is not silence', async () => {
  const body =
    'ours(() => { for (const end = Date.now() + 6000; Date.now() < end; ); })\nparentPort.postMessage("over")'
  const worker = watchWorker(workerOf('ours', body), { who: 'It', data: null, onMessage: () => worker.stop() })
  expect(await worker.ended).toBeNull()
})

test('a thread that runs nothing but our own code is never silent', async () => {
  const body =
    'nothingButOurs()\nfor (const end = Date.now() + 6000; Date.now() < end; );\nparentPort.postMessage("over")'
  const worker = watchWorker(workerOf('only-ours', body), { who: 'It', data: null, onMessage: () => worker.stop() })
  expect(await worker.ended).toBeNull()
})

test('a thread that waits for a core all the while is not silent, and one that has got one is', async () => {
  // No beat for longer than the limit, by the clock.
  const body = 'for (const end = Date.now() + 6000; Date.now() < end; );\nparentPort.postMessage("over")'
  const file = workerOf('starved', body)
  const starved = watchWorker(file, { who: 'It', data: null, onMessage: () => starved.stop() }, () => performance.now())
  expect(await starved.ended).toBeNull()
  const served = watchWorker(file, { who: 'It', data: null, onMessage: () => served.stop() }, () => 12_345)
  expect(await served.ended).toBe('It gave no answer for 5 s and was ended.')
})

test('new objects in the worker have no more room than is stated, and begin with it', async () => {
  const body = `
import { getHeapSpaceStatistics } from 'node:v8'
let kept = []
for (let i = 0; i < 2e6; i++) { beat(); kept.push({ i }); if (kept.length > 100_000) kept = [] }
parentPort.postMessage(getHeapSpaceStatistics().find(({ space_name }) => space_name === 'new_space').space_size / 1e6)`
  const sizesMB: unknown[] = []
  const worker = watchWorker(workerOf('young', body), {
    ...{ who: 'It', data: null, youngMB: 4 },
    onMessage(message) {
      sizesMB.push(message)
      worker.stop()
    },
  })
  expect(await worker.ended).toBeNull()
  expect(sizesMB).toEqual([expect.closeTo(4.2, 0)])
})

test.each([
  ['a loop without a beat', 'for (;;);', 'gave no answer for 5 s and was ended.'],
  ['process.exit', 'process.exit(0)', 'ended the program with process.exit.'],
  [
    'a rejection that nobody takes',
    'Promise.reject(new Error("no \\x1b[2J way"))',
    'failed outside of a call: no .[2J way.',
  ],
])('%s is its end, told in one sentence', async (name, body, why) => {
  const file = workerOf(name.replaceAll(/\W/g, '-'), body)
  expect(await watchWorker(file, { who: 'It', data: null, onMessage: () => {} }).ended).toBe(`It ${why}`)
})
