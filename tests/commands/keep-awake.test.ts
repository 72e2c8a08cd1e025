// The computer stays awake for as long as a test runs, and no longer; where it cannot be asked that is said.
import { chmodSync, existsSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { keepAwake, sleepWarning } from '../../src/commands/keep-awake.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'

const folder = temporaryFolder()

test.skipIf(process.platform === 'win32')(
  'the command is there until it is stopped, and ends with its input',
  async () => {
    const [asked, ended] = [join(folder, 'asked'), join(folder, 'ended')]
    const command = join(folder, 'systemd-inhibit')
    writeFileSync(command, `#!/bin/sh\necho "$@" > ${asked}.new; mv ${asked}.new ${asked}; cat; touch ${ended}\n`)
    chmodSync(command, 0o755)
    const before = process.env['PATH']
    process.env['PATH'] = `${folder}:${before}`
    const stop = keepAwake('linux')
    process.env['PATH'] = before
    await until(() => existsSync(asked), 'the command')
    expect(readFileSync(asked, 'utf8')).toContain('--what=idle:sleep')
    expect(existsSync(ended)).toBe(false)
    stop()
    await until(() => existsSync(ended), 'its end')
  },
)

test('a system without such a command is left as it is, and that is said before a test', () => {
  keepAwake('aix')()
  expect(sleepWarning('aix')).toBe('Nothing keeps this computer awake: switch its sleep off.')
  expect(sleepWarning('linux', false)).toBe(sleepWarning('aix'))
  expect(sleepWarning('linux', true)).toBeNull()
  expect(sleepWarning('darwin')).toBeNull()
})
