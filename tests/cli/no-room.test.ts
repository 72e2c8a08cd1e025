// `run` where its recording cannot be written: each reason with its own status and sentence, and no empty file left behind.
import { spawn, spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { simulatedPath } from '../../src/simulation/wire.ts'
import { environmentIn, programPath, runProgram, startProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'

const folder = temporaryFolder()
const port = { path: simulatedPath('good', 1, 5, 'screen') }
const rig = {
  manometer: { driver: 'ascii-line', suctionSign: -1, digit: { value: 0.1, unit: 'Pa' }, port },
  meter: { driver: 'scpi-query', options: { command: 'READ?' }, pair: 'com-no', port },
}
writeFileSync(join(folder, 'rig.json'), JSON.stringify(rig))
const runInto = (data: string) => ['run', '--rig', 'rig.json', '--plain', '--data-dir', data]

/** A disk of its own that holds `kB`; null where this user may mount none. */
function mountDisk(kB: number): string | null {
  if (process.platform !== 'linux' || process.getuid?.() !== 0) return null
  const path = mkdtempSync(join(tmpdir(), 'makebreak-disk-'))
  if (spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${kB}k`, 'makebreak', path]).status === 0) return path
  rmSync(path, { recursive: true })
  return null
}
const disk = mountDisk(64)
const fill = (path: string, bytes: number) => writeFileSync(join(path, 'filler'), Buffer.alloc(bytes))
afterAll(() => {
  if (disk === null) return
  spawnSync('umount', [disk])
  rmSync(disk, { recursive: true })
})

test('a folder whose way is blocked by a file, or that cannot be made, is told with status 72', async () => {
  writeFileSync(join(folder, 'file'), '')
  const { status, err } = await runProgram(folder, runInto(join('file', 'data')))
  expect(err).toMatch(
    /^makebreak: The folder .*data for recordings cannot be made: the way to its folder does not exist \(ENOTDIR\)\.\nMake the folder or connect its drive again, or name another folder\.\n$/,
  )
  expect(status).toBe(72)
})

test.runIf(process.platform === 'linux')(
  'a file that may hold nothing is told with status 74, and none is left behind',
  async () => {
    const command = ['-c', 'ulimit -f 0; exec "$0" "$@"', process.execPath, programPath, ...runInto('nothing')]
    mkdirSync(join(folder, 'home'), { recursive: true })
    const child = spawn('/bin/sh', command, { cwd: folder, env: environmentIn(folder) })
    let err = ''
    child.stderr.on('data', (text) => {
      err += text
    })
    const status = await new Promise((done) => child.on('close', done))
    expect(err).toMatch(
      /^makebreak: The recording .*\.run is as large as the system lets a file be \(EFBIG\)\.\nCheck the disk; what was written before is whole\.\n$/,
    )
    expect(status).toBe(74)
    expect(readdirSync(join(folder, 'nothing'))).toEqual([])
  },
)

test.runIf(disk !== null)('a disk that is full at the start is told with status 75, and no file is left', async () => {
  const data = join(disk!, 'full')
  mkdirSync(data)
  fill(disk!, 1)
  spawnSync('sh', ['-c', 'cat /dev/zero > "$0"', join(disk!, 'filler')])
  const { status, err } = await runProgram(folder, runInto(data))
  rmSync(join(disk!, 'filler'))
  expect(err).toMatch(
    /^makebreak: No space is left on the disk that holds .*\.run\.\nMake room on that disk, then start again; what was recorded is kept\.\n$/,
  )
  expect(status).toBe(75)
  expect(readdirSync(data)).toEqual([])
})

test.runIf(disk !== null)(
  'a disk that fills in the middle is warned of, then told with status 75, and what was recorded opens',
  async () => {
    const data = join(disk!, 'filling')
    const program = startProgram(folder, runInto(data))
    const { status, err, out } = await program.ended
    expect(out).toMatch(/ALARM: Only \d+ kB are free on the disk of the recording/)
    expect(err).toMatch(/^makebreak: No space is left on the disk that holds .*\.run\.\nMake room/)
    expect(status).toBe(75)
    const [name = ''] = readdirSync(data)
    expect(statSync(join(data, name)).size).toBeGreaterThan(20_000)
    const check = await runProgram(folder, ['check', join(data, name)])
    expect(check.out).not.toMatch(/damaged|broken/)
    expect(check.out).toContain('no seal at its end')
    rmSync(data, { recursive: true })
  },
)

test.runIf(disk !== null)('a disk that may only be read is told with status 73', async () => {
  spawnSync('mount', ['-o', 'remount,ro', disk!])
  const { status, err } = await runProgram(folder, runInto(join(disk!, 'new')))
  spawnSync('mount', ['-o', 'remount,rw', disk!])
  expect(err).toMatch(
    /^makebreak: The folder .* for recordings cannot be made: the disk may only be read \(EROFS\)\.\nName another folder, or change the rights of this one\.\n$/,
  )
  expect(status).toBe(73)
  expect(existsSync(join(disk!, 'new'))).toBe(false)
})

test.runIf(disk !== null)(
  'a disk that may only be read from the middle of a test on ends it with its own status',
  async () => {
    const data = join(disk!, 'read-only')
    const program = startProgram(folder, runInto(data))
    await until(() => program.out().includes('Phase: zero.'), 'readings', 60_000)
    // The recording holds the disk open for writing: it is taken away in place of that.
    expect(spawnSync('umount', ['-l', disk!]).status).toBe(0)
    const { status, out } = await program.ended
    expect(out).toMatch(
      /was moved or deleted during the test; all of it is kept in .*-recovered\.run\. The test was abandoned/,
    )
    expect(status).toBe(2)
  },
)
