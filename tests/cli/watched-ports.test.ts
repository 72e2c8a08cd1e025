// `ports --listen` where the user has a driver of their own: it reads what is heard, and whatever else it does is one sentence.
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { driverFolder, type Parts } from '../harness/driver-folder.ts'
import { doing, waiting } from '../harness/own-driver.ts'
import { runProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'

const root = temporaryFolder()
const ends: (() => void)[] = []
// At the end of all: of tests that run at once each would end another's.
afterAll(() => {
  for (const end of ends) end()
})

/** What the built program says of a port that sends pressures, or answers `?` with one, beside such a driver. */
async function listened(does: string, parts: Parts, ...more: string[]) {
  const { folder, id } = driverFolder(root, does, parts)
  const port = createVirtualSerial(join(folder, 'port'))
  port.plug()
  const asks = more.includes('--ask')
  port.onReceived = (bytes) => bytes.includes('how much') && port.write('12 Pa\n12 Pa\n13 Pa\n')
  const talking = asks ? undefined : setInterval(() => port.write('12 Pa\n'), 20)
  ends.push(() => {
    clearInterval(talking)
    port.unplug()
  })
  return { id, ...(await runProgram(folder, ['ports', port.path, '--listen', '1', ...more])) }
}

describe.concurrent('A driver of the user that', () => {
  test('keeps to the contract is told among the others', async () => {
    const { id, status, out, err } = await listened('reads', {})
    expect({ status, err }).toEqual({ status: 0, err: '' })
    expect(out).toMatch(new RegExp(`^    ${id} reads (\\d+) of \\1 frames as pressure$`, 'm'))
    expect(out).toMatch(/^ {4}ascii-line reads/m)
  })

  test('asks has its question sent to a silent port', async () => {
    const poll = "{ bytes: 'how much', periodMs: 100, replyMs: 100, quietMs: 0 }"
    const { id, status, out } = await listened('asks', { poll }, '--ask')
    expect(status).toBe(0)
    expect(out).toContain(`asked by ${id}`)
  })

  test.for([
    ['ends the program', { decode: doing('process.exit(0)') }, 'ended the program with process\\.exit'],
    ['waits for good', { decode: doing(waiting) }, 'gave no answer for 5 s and was ended'],
    ['ends it as it loads', { top: 'process.exit(0)' }, 'ended the program with process\\.exit'],
  ] as const)('%s is one sentence and status 65', async ([does, parts, sentence]) => {
    const { id, status, err } = await listened(does, parts)
    expect(err).toMatch(
      new RegExp(`^makebreak: .*The driver "${id}" ${sentence}\\.\nCorrect or remove that driver file.*\n$`),
    )
    expect(status).toBe(65)
  })
})
