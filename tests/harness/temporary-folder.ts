// A fresh folder for one test file, removed when its tests are over.
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll } from 'vitest'

/** The path of a new empty folder. */
export function temporaryFolder(): string {
  const path = mkdtempSync(join(tmpdir(), 'makebreak-'))
  afterAll(() => rmSync(path, { recursive: true, force: true }))
  return path
}
