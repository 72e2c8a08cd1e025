// A recorded test into the options of one that follows it: what is taken over, and how the recording is named.
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { following, followingFile } from '../../src/commands/earlier-test.ts'
import { initialRun, step } from '../../src/core/intake/run.ts'
import { curveOf } from '../../src/core/view/curve-of.ts'
import { namesText } from '../../src/terminal/screens/recording-row.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const good = 'recordings/good-1.run'
const start = JSON.parse(readFileSync(good, 'utf8').split('\n')[0]!.slice(9))

test('a test that ran to its end is repeated: same part, rig, purpose and job, its rest not known any more', async () => {
  const job = { customer: 'Stove shop', order: null }
  const conditions = { temperatureC: 21, attitude: 'ports down', restS: 3600 }
  expect(following({ ...start, job, conditions, operator: 'T. Bench' }, 'finished')).toEqual({
    purpose: start.purpose,
    earlier: { part: start.part, rig: start.rig, named: { repeats: start.id } },
    operator: 'T. Bench',
    conditions: { ...conditions, restS: null },
    customer: 'Stove shop',
    order: '',
  })
  expect((await followingFile(good)).earlier?.named).toEqual({ repeats: start.id })
})

test('one that was broken off, or has no end, is continued', async () => {
  expect(following(start, 'abandoned').earlier?.named).toEqual({ continues: start.id })
  const cut = join(folder, 'cut.run')
  writeFileSync(cut, readFileSync(good).subarray(0, 20_000))
  expect((await followingFile(cut)).earlier?.named).toEqual({ continues: start.id })
})

test('one whose first line cannot be read is refused with its path', async () => {
  const path = join(folder, 'foreign.run')
  writeFileSync(path, 'hello\n')
  await expect(followingFile(path)).rejects.toThrow(`The first line of ${path} cannot be read`)
})

test('the list, the text of `replay` and the title of the curve say what a recording follows and who it is for', () => {
  const job = { customer: 'Stove shop', order: '4711' }
  expect(namesText({ repeats: '018f-3f9c1a', job })).toEqual([
    'Repeats the recording whose name ends in 3f9c1a.',
    'Customer Stove shop, order 4711.',
  ])
  expect(namesText({ continues: '018f-3f9c1a', job: { order: '4711' } })).toEqual([
    'Goes on from the recording whose name ends in 3f9c1a.',
    'Order 4711.',
  ])
  expect(namesText(start)).toEqual([])
  const begun = step(
    initialRun(() => () => ({ readings: [], faults: [], memory: null })),
    { ...start, job },
  )
  expect(curveOf(begun)?.title).toBe(`${start.part.model} · ${start.part.serial} · Stove shop · order 4711`)
})
