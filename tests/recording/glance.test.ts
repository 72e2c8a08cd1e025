// What the ends of a recording tell before it is read.
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { encodeLine } from '../../src/recording/format.ts'
import { glanceAt } from '../../src/recording/glance.ts'
import { recordedRow } from '../../src/terminal/screens/recording-row.ts'

const folder = mkdtempSync(join(tmpdir(), 'glance-'))
const good = readFileSync(new URL('../../recordings/good-1.run', import.meta.url))
const written = (name: string, bytes: Buffer) => {
  const path = join(folder, name)
  writeFileSync(path, bytes)
  return path
}
/** The lines of the golden recording before its seal, then a verdict. */
const lines = good.toString().trimEnd().split('\n')
const withVerdict = (verdict: unknown) =>
  Buffer.concat([
    Buffer.from(`${lines.slice(0, -1).join('\n')}\n`),
    encodeLine({ type: 'verdict', t: 10 ** 12, result: { verdict } }),
    Buffer.from(`${lines.at(-1)}\n`),
  ])

describe('A glance at a recording', () => {
  test('gives its first line and the verdict that was recorded, whatever is in between', async () => {
    const path = written('whole.run', withVerdict('fail'))
    expect(await glanceAt(path)).toMatchObject({ start: { type: 'start' }, end: 'finished', verdict: 'fail' })
  })
  test('gives no verdict where none was recorded, or none that is known', async () => {
    expect((await glanceAt(written('killed.run', good.subarray(0, 20_000))))?.verdict).toBeNull()
    expect((await glanceAt(written('other.run', withVerdict('certified'))))?.verdict).toBeNull()
  })
  test('gives nothing of a file that is none, is empty, or is gone', async () => {
    expect(await glanceAt(written('foreign.run', Buffer.from('time,pressure\n1,2\n')))).toBeNull()
    expect(await glanceAt(written('empty.run', Buffer.alloc(0)))).toBeNull()
    expect(await glanceAt(join(folder, 'gone.run'))).toBeNull()
  })
  test('is marked as recorded in the list, and in no colour of a verdict', async () => {
    const glance = (await glanceAt(written('whole.run', withVerdict('pass'))))!
    const { cells, tone } = recordedRow(glance, 'whole.run')
    expect(cells[0]).toBe('… PASS')
    expect(cells.at(-1)).toMatch(/^as recorded/)
    expect(tone).toBe('dim')
    expect(recordedRow({ ...glance, verdict: null }, 'whole.run').cells[0]).toBe('…')
  })
})
