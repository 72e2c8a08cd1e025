// Recordings of another version: which verdicts change is worked out, newest first, and told once.
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { type ChangedVerdict, createReview } from '../../src/commands/start/review-verdicts.ts'
import { encodeLine } from '../../src/recording/format.ts'
import { changedSummary, changedTexts } from '../../src/terminal/text/changed-verdicts.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'

const top = temporaryFolder()
let count = 0

function newFolders() {
  const folder = join(top, String(count++))
  const folders = {
    recordings: join(folder, 'recordings'),
    drivers: join(folder, 'drivers'),
    cache: join(folder, 'cache'),
  }
  mkdirSync(folders.recordings, { recursive: true })
  return folders
}

/** The recording good-1 as `software` would have left it, with another verdict and its seal. */
function write(path: string, software: string, verdict: string) {
  const events = readFileSync('recordings/good-1.run', 'utf8')
    .split('\n')
    .slice(0, -1)
    .map((line) => JSON.parse(line.slice(9)))
  const hash = createHash('sha256')
  const lines = events.map((event) => {
    const change =
      event.type === 'start'
        ? { software }
        : event.type === 'verdict'
          ? { result: { verdict } }
          : event.type === 'seal'
            ? { sha256: hash.copy().digest('hex') }
            : {}
    const line = encodeLine({ ...event, ...change })
    hash.update(line)
    return line
  })
  writeFileSync(path, Buffer.concat(lines))
}

test('verdicts of another version that change are told once, newest first; those of this one are left alone', async () => {
  const folders = newFolders()
  write(join(folders.recordings, '1.run'), 'makebreak 1.0.0', 'undecided')
  write(join(folders.recordings, '2.run'), 'makebreak 1.0.0', 'fail')
  write(join(folders.recordings, '3.run'), 'makebreak 1.0.0', 'pass')
  write(join(folders.recordings, '4.run'), 'makebreak 2.0.0', 'fail')
  writeFileSync(join(folders.recordings, '5.run'), 'hello\n')
  const review = createReview(folders, '2.0.0')
  expect(review.toTell()).toBeNull()
  const said: (readonly ChangedVerdict[])[] = []
  await review.start((changed) => said.push(changed))
  const expected = [
    { name: '2.run', was: 'fail', now: 'pass' },
    { name: '1.run', was: 'undecided', now: 'pass' },
  ]
  expect(said).toEqual([expected])
  expect(review.toTell()).toEqual({ changed: expected, done: true })
  expect(review.toTell()).toBeNull()
  const told = join(folders.cache, 'verdicts-told')
  await until(() => existsSync(told) && readFileSync(told, 'utf8') === '2.0.0', 'what was told')
  const again = createReview(folders, '2.0.0')
  await again.start(() => {})
  expect(again.toTell()).toBeNull()
})

test('what is stopped goes on where it was', async () => {
  const folders = newFolders()
  write(join(folders.recordings, '1.run'), 'makebreak 1.0.0', 'fail')
  const review = createReview(folders, '2.0.0')
  const said: (readonly ChangedVerdict[])[] = []
  const first = review.start((changed) => said.push(changed))
  review.stop()
  await first
  expect(said).toEqual([])
  await review.start((changed) => said.push(changed))
  expect(said).toEqual([[{ name: '1.run', was: 'fail', now: 'pass' }]])
})

test('the sentences name each recording with both verdicts', () => {
  const changed: ChangedVerdict[] = [{ name: 'a.run', was: 'pass', now: 'undecided' }]
  expect(changedSummary(changed)).toBe('One recorded verdict changes with this version; Recordings lists it.')
  expect(changedTexts(changed, '2.0.0', false)).toEqual([
    'makebreak 2.0.0 reads these recordings differently. What was recorded stays in each of them.',
    '',
    'a.run: PASS then, UNDECIDED now.',
    '',
    'Older recordings are still to be recalculated.',
  ])
})
