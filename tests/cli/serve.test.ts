// `simulate --serve` as a user meets it: paths, a command to type, and Ctrl-C.
import { existsSync } from 'node:fs'
import { dirname } from 'node:path'
import { describe, expect, onTestFinished, test } from 'vitest'
import { startProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'

const folder = temporaryFolder()

describe.skipIf(process.platform === 'win32')('a served bench', () => {
  test.each(['SIGINT', 'SIGTERM'] as const)('is ended by %s, and its folder goes with it', async (signal) => {
    const server = startProgram(folder, ['simulate', 'good', '--serve'])
    onTestFinished(() => void server.child.kill('SIGKILL'))
    await until(() => server.out().includes('Ctrl-C ends it'), 'the paths')
    const [, meter = ''] = /^ +meter +(.*)$/m.exec(server.out()) ?? []
    expect(existsSync(meter)).toBe(true)
    server.child.kill(signal)
    expect((await server.ended).status).toBe(0)
    expect(server.err()).toBe('')
    expect(existsSync(dirname(meter))).toBe(false)
  })
})
