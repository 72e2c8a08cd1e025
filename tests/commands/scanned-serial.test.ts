// `--serial` with the code of a tag: the test is of the tag's part, and of no other.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { digestOf } from '../../src/bundle/pack-bundle.ts'
import { prepareRun } from '../../src/commands/prepare-run.ts'
import { tagCodeText } from '../../src/core/text/tag-code.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { userFolders } from '../../src/user-folders.ts'
import { realRecording } from '../harness/real-recording.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
vi.stubEnv('HOME', folder)
vi.stubEnv('XDG_DATA_HOME', join(folder, 'data'))
vi.stubEnv('XDG_CONFIG_HOME', join(folder, 'config'))
afterAll(() => {
  vi.unstubAllEnvs()
})

const part = { model: 'HL-Proving 1', kind: 'draft-proving', rated: { value: 0.25, unit: 'inH2O', on: 'make' } }
let code = ''
beforeAll(() => {
  const { recordings } = userFolders()
  mkdirSync(recordings, { recursive: true })
  const path = join(recordings, 'real.run')
  realRecording(new URL('../../recordings/good-1.run', import.meta.url).pathname, path)
  code = tagCodeText({ standing: null, number: null, serial: '0417', sha256: digestOf(readFileSync(path)) })
})

const serialOf = async (model: string, serial: string) => {
  const path = join(folder, `${model}.json`)
  writeFileSync(path, JSON.stringify({ ...part, model }))
  const options = {
    purpose: 'certify' as const,
    part: path,
    bench: { scenario: 'good', seed: 1 },
    serial,
    dataDir: folder,
  }
  const { plan } = await prepareRun(options, () => loadDrivers())
  return (plan.start.part as { serial?: string }).serial
}

test('a scanned tag gives the serial number of its part, anything else is one itself', async () => {
  expect(await serialOf('HL-Proving 1', code)).toBe('0417')
  expect(await serialOf('HL-Proving 1', 'A1047')).toBe('A1047')
})

test('a tag of another model is refused, and so is one that belongs to no recording here', async () => {
  await expect(serialOf('DP-62', code)).rejects.toThrow(
    'This tag is of a part HL-Proving 1, and DP-62 is to be tested.',
  )
  await expect(serialOf('DP-62', 'REJECT A1 0123456789ABCDEF')).rejects.toThrow('No recording in')
})
