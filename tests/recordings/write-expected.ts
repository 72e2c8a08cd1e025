// Writes the expected result of every golden recording anew (`npm run golden`); DEVELOPERS.md says when that is right.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { goldenFolder, replayGolden } from './golden.ts'

const folder = mkdtempSync(join(tmpdir(), 'makebreak-golden-'))
try {
  for (const [name, result] of await replayGolden(folder))
    writeFileSync(join(goldenFolder, `${name}.expected.json`), `${JSON.stringify(result, null, 2)}\n`)
} finally {
  rmSync(folder, { recursive: true, force: true })
}
