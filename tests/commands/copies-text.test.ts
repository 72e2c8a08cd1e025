import { appendFileSync, copyFileSync, mkdirSync, statSync, truncateSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { checkFile } from '../../src/commands/check.ts'
import { copiesText } from '../../src/commands/copies-text.ts'
import { createRecording } from '../../src/recording/append.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
let made = 0

/** A sealed recording in a folder of its own; `beside` is a path there. */
function recorded() {
  const own = join(folder, `${++made}`)
  mkdirSync(own)
  const beside = (name: string) => join(own, name)
  const file = beside('20270314-A1047.run')
  write(file, sampleStart.id)
  return { file, beside }
}
function write(path: string, id: string): void {
  const recorder = createRecording(path, { ...sampleStart, id })
  for (let t = 1; t <= 20; t++) recorder.append({ type: 'tick', t })
  recorder.append({ type: 'end', t: 30, reason: 'finished' })
  recorder.seal(30)
  recorder.close()
}

test.each(['20270314-A1047 (conflicted copy 2027-03-14).run', '20270314-A1047.sync-conflict-20270314-091500-ABC.run'])(
  'check names %s as a copy that a sync tool made, from either side',
  async (name) => {
    const { file, beside } = recorded()
    copyFileSync(file, beside(name))
    const { status, lines } = await checkFile(file)
    expect(lines).toEqual([
      `${file}: whole, sealed; not signed; ${name} beside it is a sync tool's copy of the same test, byte for byte the same`,
    ])
    expect(status).toBe(0)
    expect((await checkFile(beside(name))).lines[0]).toContain(
      "; a sync tool's copy of the same test as 20270314-A1047.run beside it, byte for byte the same",
    )
  },
)

test('a file that was replaced by its own start is told beside what was recovered', async () => {
  const { file, beside } = recorded()
  copyFileSync(file, beside('20270314-A1047-recovered.run'))
  truncateSync(file, statSync(file).size - 200)
  expect(await copiesText(file)).toEqual([
    '20270314-A1047-recovered.run beside it is the same test, this file holds only the start of it',
  ])
  expect(await copiesText(beside('20270314-A1047-recovered.run'))).toEqual([
    '20270314-A1047.run beside it is the same test, it holds only the start of this file',
  ])
})

test('a copy that has other bytes is told as such', async () => {
  const { file, beside } = recorded()
  copyFileSync(file, beside('20270314-A1047 (1).run'))
  truncateSync(file, statSync(file).size - 200)
  appendFileSync(file, 'something else')
  expect((await copiesText(file))[0]).toMatch(/ with other bytes$/)
})

test('a recording of another test is not a copy, however alike their names are', async () => {
  const { file, beside } = recorded()
  write(beside('20270314-A1047-2.run'), 'another-id')
  expect(await copiesText(file)).toEqual([])
})
