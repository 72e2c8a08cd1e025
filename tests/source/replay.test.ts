import { chmodSync, mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import type { RecordedEvent } from '../../src/core/model/event.ts'
import { createRecording } from '../../src/recording/append.ts'
import { createReader } from '../../src/recording/read.ts'
import { runSession } from '../../src/session.ts'
import { replay } from '../../src/source/replay.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const all = (source: AsyncIterable<RecordedEvent[]>) =>
  runSession<RecordedEvent[]>({ source, initial: [], step: (state, event) => [...state, event] })

test('a recording longer than one read comes in batches, in order, to its seal', async () => {
  const path = join(folder, 'long.run')
  const recorder = createRecording(path, sampleStart)
  for (let t = 0; t < 10_000; t++) recorder.append({ type: 'tick', t })
  recorder.seal(10_000)
  recorder.close()
  const sizes: number[] = []
  let ticks = 0
  const last = await runSession<RecordedEvent | null>({
    source: replay(path, createReader()),
    initial: null,
    step: (_, event) => {
      if (event.type === 'tick') expect(event.t).toBe(ticks++)
      return event
    },
    publish: () => sizes.push(ticks),
  })
  expect(ticks).toBe(10_000)
  expect(sizes.length).toBeGreaterThan(1)
  expect(last).toMatchObject({ type: 'seal', matches: true })
})

test('a torn tail comes last', async () => {
  const path = join(folder, 'torn.run')
  const recorder = createRecording(path, sampleStart)
  recorder.close()
  writeFileSync(path, '12ab', { flag: 'a' })
  expect(await all(replay(path, createReader()))).toMatchObject([{ type: 'start' }, { type: 'torn', bytes: 4 }])
})

test('what is no file to read is one sentence with its path', async () => {
  const missing = join(folder, 'missing.run')
  await expect(all(replay(missing, createReader()))).rejects.toMatchObject({
    code: 'file-missing',
    message: expect.stringContaining('missing.run'),
  })
  mkdirSync(join(folder, 'folder.run'))
  await expect(all(replay(join(folder, 'folder.run'), createReader()))).rejects.toMatchObject({
    code: 'file-unreadable',
  })
  const path = join(folder, 'text.run')
  writeFileSync(path, 'hello\n')
  await expect(all(replay(path, createReader()))).rejects.toMatchObject({ code: 'recording-foreign' })
  writeFileSync(path, '')
  await expect(all(replay(path, createReader()))).rejects.toMatchObject({ code: 'recording-empty' })
  // A superuser may read anything.
  if (process.getuid?.() === 0) return
  chmodSync(path, 0)
  await expect(all(replay(path, createReader()))).rejects.toMatchObject({ code: 'file-unreadable' })
})
