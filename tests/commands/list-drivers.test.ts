// What `driver list` prints of the drivers, and of one.
import { readdirSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { runCommand } from '../harness/run-command.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()

test('every driver has its line, and the read-me a row for it', async () => {
  const { status, out } = await runCommand(folder, ['driver', 'list'])
  const ids = out
    .trimEnd()
    .split('\n')
    .map((line) => line.split(' ')[0])
  const names = readdirSync(new URL('../../drivers/', import.meta.url)).filter((name) => name.endsWith('.ts'))
  const files = names.map((name) => name.replace('.ts', ''))
  expect(ids).toEqual([...files, 'typed'].sort())
  const readMe = readFileSync(new URL('../../README.md', import.meta.url), 'utf8')
  for (const id of ids) expect(readMe).toContain(`| \`${id}\` `)
  expect(status).toBe(0)
})

test('of one all is told that a rig file takes', async () => {
  const { status, out } = await runCommand(folder, ['driver', 'list', 'scpi-query'])
  const lines = out.trimEnd().split('\n')
  expect(lines[1]).toBe('Reads pressure and resistance. Where the rig file says nothing else: 9600 baud, 8N1.')
  expect(lines).toContain('  command: a text; else "READ?". The query, without its end.')
  expect(lines).toContain('  intervalMs: 20 to 10000 ms; else 200 ms. Time from query to query.')
  expect(lines).toContain(
    '  terminator: lf, crlf, cr; else lf. What ends a query; a reply ends in cr for cr, else in lf or CR LF.',
  )
  expect(status).toBe(0)
})

test('one that is not there is a Problem that names those that are', async () => {
  const { status, err } = await runCommand(folder, ['driver', 'list', 'nonesuch'])
  expect(err).toMatch(/^makebreak: Found no driver "nonesuch"; the drivers here are ascii-line, /)
  expect(status).toBe(65)
})
