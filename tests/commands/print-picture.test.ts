// A picture handed to the printer's command: what it gets, what is said, and what where it is missing or refuses.
import { chmodSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, describe, expect, test } from 'vitest'
import { printPicture } from '../../src/commands/print-picture.ts'
import { printReport } from '../../src/commands/print-report.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const before = process.env['PATH']
afterEach(() => {
  process.env['PATH'] = before
})

/** Makes `script` the command lp, the first in the path. */
function pretendLp(script: string) {
  const path = join(folder, 'lp')
  writeFileSync(path, `#!/bin/sh\n${script}\n`)
  chmodSync(path, 0o755)
  process.env['PATH'] = `${folder}:${before}`
}

describe.skipIf(process.platform === 'win32')('printPicture', () => {
  test('hands a PDF named after the recording to lp, and says what lp says', async () => {
    pretendLp(`cat > ${folder}/printed; echo "request id is shop-12 (1 file, $2)"`)
    expect(await printPicture('A1047', ['<svg viewBox="0 0 720 440"></svg>'])).toBe(
      'Printed: request id is shop-12 (1 file, A1047).',
    )
    expect(readFileSync(join(folder, 'printed'), 'latin1')).toMatch(/^%PDF-1\.7\n[\s\S]*%%EOF\n$/)
  })

  test('says why lp refused, and what to do', async () => {
    pretendLp('echo "lp: no default destination available." >&2; exit 1')
    await expect(printPicture('A1047', ['<svg viewBox="0 0 720 440"></svg>'])).rejects.toMatchObject({
      message: 'lp did not print: lp: no default destination available.',
      next: 'Press c to write the curve as SVG, then print that from a browser.',
    })
  })

  test('a report is handed over as it was written, and where nothing prints the next step names its file', async () => {
    const path = join(folder, 'A1047-report.pdf')
    writeFileSync(path, '%PDF-1.7 of a report')
    pretendLp(`cat > ${folder}/printed; echo "request id is shop-13 (1 file, $2)"`)
    expect(await printReport(path)).toBe('Printed: request id is shop-13 (1 file, A1047-report).')
    expect(readFileSync(join(folder, 'printed'), 'utf8')).toBe('%PDF-1.7 of a report')
    process.env['PATH'] = join(folder, 'absent')
    await expect(printReport(path)).rejects.toMatchObject({
      message: 'This computer cannot print: the command lp is missing.',
      next: `The report is written: print ${path} from where there is a printer.`,
      exitCode: 69,
    })
  })

  test('says so where there is no lp', async () => {
    process.env['PATH'] = join(folder, 'absent')
    await expect(printPicture('A1047', ['<svg viewBox="0 0 720 440"></svg>'])).rejects.toThrow(
      'This computer cannot print: the command lp is missing.',
    )
  })
})
